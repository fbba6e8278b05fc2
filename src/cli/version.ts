/** The program's version, as package.json has it; the bundle carries it inside. */
import packageJson from '../../package.json' with { type: 'json' };

export const VERSION: string = packageJson.version;
