import { create, type MathNode, parseDependencies } from "mathjs/number";

/**
 * The parser of mathjs and nothing else of it: this small static module keeps the bundle at a fifth of the whole
 * library (measured 141 KB and about 40 ms to load, against 648 KB and about 90 ms).
 */
// The declarations of mathjs call every export of this kind possibly absent; it is not.
const mathjs = create({ parseDependencies: parseDependencies! });

export const parseWithMathjs = (shape: string): MathNode => mathjs.parse(shape);
