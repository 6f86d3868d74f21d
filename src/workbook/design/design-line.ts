import { isQuantity, type Measure, quantities, toShown, type UnitSystem } from "../../quantity/measure.ts";
import { convert, units } from "../../quantity/units.ts";
import { WHOLE } from "../number-format.ts";
import { type Cell, type Formatted, formula } from "../sheet-model.ts";
import type { DesignRing } from "./design-ring.ts";

/**
 * One line of a liner's design. The sheet that is shown and the test that works out every lateral at once are made
 * from the same lines, so that no formula is written twice.
 */
export type DesignLine = SectionLine | GivenLine | WorkedLine;
export type ValueLine = GivenLine | WorkedLine;

export interface SectionLine {
  readonly kind: "section";
  readonly title: string;
}

interface NamedLine {
  /** By which formulas name it. */
  readonly key: string;
  readonly symbol: string;
  readonly what: string;
  readonly measure: Measure;
  readonly source: string;
  /** Of a ring, in stored units; "" where the line says nothing of it. */
  readonly value: (ring: DesignRing) => number | string;
  /** Whether it can be "". */
  readonly optional?: true;
}

/** A value that the design starts from: of each lateral, or the same for the whole program. */
export interface GivenLine extends NamedLine {
  readonly kind: "given";
  readonly per: "lateral" | "program";
}

/** A value worked out by the sheet. `value` is the engine's own, which the sheet's is compared with. */
export interface WorkedLine extends NamedLine {
  readonly kind: "worked";
  /** As people write it. */
  readonly equation: string;
  /** As the spreadsheet computes it, in SI: {D} is the line of that key, {#impact covers} a range of the tables. */
  readonly formula: string;
}

/** Where the lines are on a sheet. */
export interface Place {
  /** The cell of a line's value in the program's units, and the one of its SI value. */
  readonly shown: (key: string) => string;
  readonly si: (key: string) => string;
  /** The cell or formula that gives a value of the lateral. */
  readonly given: (key: string) => string;
  readonly range: (name: string) => string;
}

export interface LineCells {
  /** In the program's units. */
  readonly shown: Cell;
  /** In SI; null where a line has no unit, and then formulas use the value that is shown. */
  readonly si: Cell;
}

/** More decimals than elsewhere, because steps of a calculation are followed here. */
export function designFormat(measure: Measure, system: UnitSystem): string {
  switch (measure) {
    case "factor":
      return "#,##0.0#####";
    case "force":
      return WHOLE;
    case "modulus":
      return system === "us" ? WHOLE : "#,##0.0##";
    case "unit_weight":
      return system === "us" ? "#,##0.0" : "#,##0.0##";
    default:
      return "#,##0.0###";
  }
}

/** The two cells of a line for one ring: an input is converted to SI, a result from it. */
export function cellsOf(
  line: ValueLine,
  ring: DesignRing,
  place: Place,
  lines: ReadonlyMap<string, ValueLine>,
  system: UnitSystem,
): LineCells {
  const value = line.value(ring);
  const { measure } = line;
  const factor = storedPerShown(measure, system);
  const shown = toShownNumber(value, measure, system);
  const inShown = (text: string): Cell =>
    measure === "text"
      ? { ...formula(text, shown), isText: true }
      : formula(text, shown, designFormat(measure, system));
  const inSi = (text: string): Cell => formula(text, value, designFormat(measure, "si"));
  if (line.kind === "worked") {
    const text = line.formula.replace(/\{(#?)([^}]+)\}/g, (_, hash: string, name: string) =>
      hash === "" ? cellOf(name, place, lines) : place.range(name),
    );
    if (factor === null) return { shown: inShown(text), si: null };
    return { shown: inShown(reference(line, place.si(line.key), times(factor, "/"))), si: inSi(text) };
  }
  const given =
    line.per === "lateral"
      ? inShown(reference(line, place.given(line.key)))
      : typeof shown === "number"
        ? designNumber(shown, measure, system)
        : shown;
  return {
    shown: given,
    si: factor === null ? null : inSi(reference(line, place.shown(line.key), times(factor, "*"))),
  };
}

const times = (factor: number, operator: "*" | "/"): string =>
  factor === 1 ? "" : `${operator}${numberText(factor)}`;

/** What formulas take for a line: its SI value, or what is shown where it has no unit. */
function cellOf(name: string, place: Place, lines: ReadonlyMap<string, ValueLine>): string {
  const line = lines.get(name);
  if (line === undefined)
    throw new RangeError(`cellOf: no line of the design is called ${JSON.stringify(name)}`);
  return isQuantity(line.measure) ? place.si(name) : place.shown(name);
}

/** A reference, which stays empty where the line can be: an empty cell would be taken for 0. */
const reference = ({ optional }: NamedLine, cell: string, then = ""): string =>
  optional ? `IF(${cell}="","",${cell}${then})` : `${cell}${then}`;

/** A number as it is, to the last bit. */
export const designNumber = (value: number, measure: Measure, system: UnitSystem): Formatted => ({
  kind: "number",
  value,
  format: designFormat(measure, system),
});

/** Stored units in a shown one; null for what has no unit. */
export const storedPerShown = (measure: Measure, system: UnitSystem): number | null =>
  isQuantity(measure) ? convert(1, quantities[measure][system], quantities[measure].stored) : null;

/** A value of a line as it is shown. */
export const toShownNumber = (
  value: number | string,
  measure: Measure,
  system: UnitSystem,
): number | string =>
  typeof value === "number" && isQuantity(measure) ? toShown(value, measure, system) : value;

/** The SI unit in which a measure is worked out. */
export const siUnit = (measure: Measure): string =>
  isQuantity(measure) ? units[quantities[measure].stored].spellings[0] : "";

/** A number in a formula. */
export const numberText = (value: number): string => String(value).toUpperCase();
