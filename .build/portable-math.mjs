// Options of esbuild that put functions of src/algebra/portable/ in the place of those of Math that engines round differently.

const PORTABLE = ['sin', 'cos', 'tan', 'asin', 'acos', 'atan', 'atan2', 'exp', 'log', 'log10', 'hypot'];
const portableName = (name) => `portable${name[0].toUpperCase()}${name.slice(1)}`;

export const portableMath = {
  define: Object.fromEntries(PORTABLE.map((name) => [`Math.${name}`, portableName(name)])),
  inject: ['src/algebra/portable/math.ts'],
};
