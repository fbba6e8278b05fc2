/** The examples whose packages are kept byte for byte under tests/goldens/. */
export const GOLDEN_EXAMPLES = ['diverging-balls', 'converging-retroreflectors', 'infrared-collimated'];
