/**
 * What a number inside the program is: SI units, as types. Arithmetic on a brand gives a plain number, so each
 * formula ends by naming the unit of its result (`metres(…)`): that is the author's signature under the unit.
 */
declare const unit: unique symbol;
type Branded<Unit extends string> = number & { readonly [unit]: Unit };

export type Metres = Branded<"m">;
export type Millimetres = Branded<"mm">;
export type SquareMetres = Branded<"m2">;
export type Litres = Branded<"L">;
export type Kilograms = Branded<"kg">;
export type KilogramsPerLitre = Branded<"kg/L">;
export type Kilopascals = Branded<"kPa">;
export type Megapascals = Branded<"MPa">;
export type Newtons = Branded<"N">;
export type KilonewtonsPerCubicMetre = Branded<"kN/m3">;
export type Minutes = Branded<"min">;
export type Celsius = Branded<"degC">;
export type LitresPerSecond = Branded<"L/s">;
export type MetresPerSecond = Branded<"m/s">;
/** A part of one: 2 % is 0.02. */
export type Fraction = Branded<"1">;
/** Whole cents (hundredths) of the program's currency. */
export type Cents = Branded<"cents">;
/** Whole days since 1970-01-01. */
export type Day = Branded<"day">;

export const metres = (n: number) => n as Metres;
export const millimetres = (n: number) => n as Millimetres;
export const squareMetres = (n: number) => n as SquareMetres;
export const litres = (n: number) => n as Litres;
export const kilograms = (n: number) => n as Kilograms;
export const kilogramsPerLitre = (n: number) => n as KilogramsPerLitre;
export const kilopascals = (n: number) => n as Kilopascals;
export const megapascals = (n: number) => n as Megapascals;
export const newtons = (n: number) => n as Newtons;
export const kilonewtonsPerCubicMetre = (n: number) => n as KilonewtonsPerCubicMetre;
export const minutes = (n: number) => n as Minutes;
export const celsius = (n: number) => n as Celsius;
export const litresPerSecond = (n: number) => n as LitresPerSecond;
export const metresPerSecond = (n: number) => n as MetresPerSecond;
export const fraction = (n: number) => n as Fraction;
export const cents = (n: number) => n as Cents;
export const day = (n: number) => n as Day;
