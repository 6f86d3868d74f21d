/**
 * Exact conversion factors, named SI-per-other. The international foot, inch and pound are defined exactly
 * (NIST SP 811, Appendix B.8); everything else here is a product of those.
 */
export const METRES_PER_FOOT = 0.3048;
export const MILLIMETRES_PER_INCH = 25.4;
export const KILOGRAMS_PER_POUND = 0.45359237;
export const NEWTONS_PER_POUND_FORCE = KILOGRAMS_PER_POUND * 9.80665;
/** 1 US liquid gallon = 231 in³. */
export const LITRES_PER_GALLON = (231 * MILLIMETRES_PER_INCH ** 3) / 1e6;
/** lbf/in² → kPa. */
export const KILOPASCALS_PER_PSI = NEWTONS_PER_POUND_FORCE / MILLIMETRES_PER_INCH ** 2 / 1e-3;
export const MEGAPASCALS_PER_PSI = KILOPASCALS_PER_PSI / 1000;
/** lbf/ft² → kPa. */
export const KILOPASCALS_PER_PSF = KILOPASCALS_PER_PSI / 144;
/** lbf/ft³ → kN/m³. */
export const KILONEWTONS_PER_CUBIC_METRE_PER_PCF = NEWTONS_PER_POUND_FORCE / METRES_PER_FOOT ** 3 / 1000;
export const SQUARE_METRES_PER_SQUARE_FOOT = METRES_PER_FOOT ** 2;
export const LITRES_PER_CUBIC_METRE = 1000;
