import type { TreatmentKind } from "../columns/plan-columns.ts";
import { bendLength } from "../engineering/bend-length.ts";
import { joinedOnce } from "../quantity/joined-once.ts";
import type { UnitSystem } from "../quantity/measure.ts";
import { type Metres, type Millimetres, metres } from "../quantity/si.ts";
import { convert } from "../quantity/units.ts";
import { type Basis, chosenFor } from "../reference/basis.ts";
import { passesOf } from "../reference/materials.ts";
import type { WorkKind } from "../reference/works.ts";
import { type BidLine, sizeLabel } from "./bid-lines.ts";
import type { Lateral } from "./lateral.ts";
import { type ConnectionPiece, type Liner, type OnePiece, useOf } from "./liner.ts";
import { restoredSurfaces } from "./restored-surface.ts";

/**
 * What is used at one lateral, in whole numbers of the unit it is counted in, so that districts add up to the program:
 * mm, mL, cm² or pieces. Resin is weighed by batch and stands apart (season/batches.ts).
 */
export const takeoffItems = {
  "liner tube": "mm",
  "sectional liner": "each",
  "connection liner": "each",
  "one-piece liner": "each",
  "one-piece tube": "mm",
  "tube and sheet": "cm2",
  "end seal": "each",
  "bladder use": "each",
  "new cleanout": "each",
  reinstatement: "each",
  "camera run": "mm",
  cleaning: "mm",
  "root cutting": "mm",
  grout: "mL",
  "new pipe": "mm",
  "surface restored": "cm2",
} as const;
export type TakeoffItem = keyof typeof takeoffItems;

/** One piece of a tube, or an amount of something else. */
export interface MaterialUse {
  readonly item: TakeoffItem;
  /** Size, wall, surface or depth as people see it. */
  readonly variant: string;
  readonly amount: number;
}

const SEPARATOR = " | ";
export const takeoffKey = ({ item, variant }: Pick<MaterialUse, "item" | "variant">): string =>
  itemWithVariant(item, variant);
const itemWithVariant = joinedOnce((item: TakeoffItem, variant: string) => `${item}${SEPARATOR}${variant}`);
export function readTakeoffKey(key: string): Pick<MaterialUse, "item" | "variant"> {
  const at = key.indexOf(SEPARATOR);
  const item = key.slice(0, at);
  if (at < 0 || !(item in takeoffItems)) throw new RangeError(`readTakeoffKey: ${JSON.stringify(key)}`);
  return { item: item as TakeoffItem, variant: key.slice(at + SEPARATOR.length) };
}

/** Everything but resin that the treatment uses at this lateral. Nothing of it is a bid quantity. */
export function takeOffMaterials(
  {
    treatment,
    works,
    bidLines,
  }: {
    readonly treatment: TreatmentKind;
    readonly works: readonly {
      readonly work: WorkKind;
      readonly preparation: boolean;
      readonly liner: Liner;
    }[];
    readonly bidLines: readonly BidLine[];
  },
  lateral: Lateral,
  basis: Pick<Basis, "program" | "materials" | "placing" | "liners" | "treatments" | "assumptions">,
): readonly MaterialUse[] {
  const uses: MaterialUse[] = [];
  for (const { liner } of works) if (liner !== null) pushLiner(uses, liner, lateral, basis);
  pushAlong(uses, treatment, lateral, basis);
  for (const { work, preparation } of works) if (preparation) pushPreparation(uses, work, lateral, basis);
  for (const { item, variant, hundredths } of bidLines)
    if (item === "new cleanout" || item === "reinstatement") push(uses, item, variant, hundredths / 100);
  for (const { work } of works)
    if (work === "open-cut replacement" || work === "pipe bursting")
      pushNewPipe(uses, work, lateral, bidLines);
  for (const { work } of works)
    for (const { surface, area } of restoredSurfaces(work, lateral, basis))
      push(uses, "surface restored", surface, wholeUp(area * 10_000));
  return uses;
}

const push = (uses: MaterialUse[], item: TakeoffItem, variant: string, amount: number): void => {
  uses.push({ item, variant, amount });
};

/** A tube is cut to its installed length with run-in, run-out and what the bends use up on their outside. */
export function tubeCut(
  liner: { readonly cutLength: Metres; readonly nominalDiameter: Millimetres },
  { bends, sharpestBend }: Pick<Lateral, "bends" | "sharpestBend">,
  { path }: Basis["placing"],
): { readonly bends: Metres; readonly cut: Metres } {
  // Every bend is taken to be as sharp as the sharpest; what the city does not say is the assumed path of the pull.
  const atBends = bendLength(
    bends?.value ?? path.bends,
    sharpestBend?.value ?? path.bendDegrees,
    liner.nominalDiameter,
  );
  return { bends: atBends, cut: metres(liner.cutLength + atBends) };
}

function pushLiner(
  uses: MaterialUse[],
  liner: NonNullable<Liner>,
  lateral: Lateral,
  { program, placing, liners }: Pick<Basis, "program" | "placing" | "liners">,
): void {
  const { nominalDiameter, installedLength } = liner;
  const size = sizeLabel(nominalDiameter, program.units);
  const { key: system } = chosenFor(liners, useOf[liner.kind]).system;
  const stock = sizeOfStock(size, wallOfSystem(system, liner.wall));
  let bladders = 1;
  switch (liner.kind) {
    case "full length": {
      const { cut } = tubeCut(liner, lateral, placing);
      push(uses, "liner tube", stock, wholeUp(cut * 1000));
      push(uses, "tube and sheet", stock, tubeArea(nominalDiameter, cut));
      push(uses, "end seal", size, liner.endSeals);
      break;
    }
    case "section": {
      for (const { length } of liner.pieces)
        push(uses, "sectional liner", lengthOfStock(stock, lengthLabel(length, program.units)), 1);
      push(uses, "tube and sheet", stock, tubeArea(nominalDiameter, liner.cutLength));
      push(uses, "end seal", size, liner.endSeals);
      bladders = liner.pieces.length;
      break;
    }
    case "connection": {
      const main = sizeLabel(liner.mainDiameter, program.units);
      push(uses, "connection liner", kitOf(main, liner, stock), 1);
      pushSheets(uses, liner, { main, stock, system, beyond: 0 });
      pushSealsInMain(uses, liner, size, main);
      break;
    }
    case "one piece": {
      const main = sizeLabel(liner.mainDiameter, program.units);
      const { cut } = tubeCut(liner, lateral, placing);
      const beyond = metres(cut - installedLength);
      push(uses, "one-piece liner", kitOf(main, liner, stock), 1);
      // Made to its length with the part in the main, and cut from no roll.
      push(uses, "one-piece tube", stock, wholeUp(cut * 1000));
      pushSheets(uses, liner, { main, stock, system, beyond: tubeArea(nominalDiameter, beyond) });
      pushSealsInMain(uses, liner, size, main);
      break;
    }
    default:
      liner satisfies never;
  }
  push(uses, "bladder use", size, bladders);
}

/** `4 in x 6 mm, felt and polyester`: what a tube or a sheet is of. */
const sizeOfStock = joinedOnce((size: string, wall: string) => `${size} x ${wall}`);
const wallOfSystem = joinedOnce((system: string, wall: Millimetres) => `${wall} mm, ${system}`);
const lengthOfStock = joinedOnce((stock: string, length: string) => `${stock}, ${length}`);

/** A kit is bought with both its walls: one that fits the lateral may be too thin for the main. */
const kitOf = (main: string, { mainWall }: ConnectionPiece | OnePiece, stock: string): string =>
  `${sizeOfStock(`${main} main`, `${mainWall} mm`)}, ${stock}`;

/**
 * Both parts as the geometry of the joint has them, each of its own wall.
 *
 * @param beyond what is cut longer than the joint and the lateral take, cm² of the part in the lateral
 */
function pushSheets(
  uses: MaterialUse[],
  { takeoff: { mainSheet, lateralSheet }, mainWall }: ConnectionPiece | OnePiece,
  of: { readonly main: string; readonly stock: string; readonly system: string; readonly beyond: number },
): void {
  const inMain = sizeOfStock(`${of.main} main`, wallOfSystem(of.system, mainWall));
  push(uses, "tube and sheet", inMain, wholeUp(mainSheet * 10_000));
  push(uses, "tube and sheet", of.stock, wholeUp(lateralSheet * 10_000) + of.beyond);
}

/** One at the top of the lateral, the others around the part in the main. */
function pushSealsInMain(
  uses: MaterialUse[],
  { endSeals }: ConnectionPiece | OnePiece,
  size: string,
  main: string,
): void {
  push(uses, "end seal", size, 1);
  push(uses, "end seal", main, endSeals - 1);
}

/** A stocked length as it is bought: `3 ft` as in the bid, but `2.5 ft` where the bid rounds; in mm where people see SI. */
const lengthLabel = (length: Metres, system: UnitSystem): string =>
  system === "us" ? `${Number(convert(length, "m", "ft").toFixed(2))} ft` : `${Math.round(length * 1000)} mm`;

/** Laid flat: circumference times length, in cm². */
const tubeArea = (diameter: Millimetres, length: Metres): number =>
  wholeUp(((Math.PI * diameter) / 10) * length * 100);

function pushAlong(
  uses: MaterialUse[],
  treatment: TreatmentKind,
  { hostLength }: Lateral,
  { materials }: Pick<Basis, "materials">,
): void {
  // Only a lateral that is looked at first can be of unknown length: its camera run is measured there.
  if (hostLength === null) return;
  const length = hostLength.value;
  const { camera, cleaning, rootCutting, grout } = passesOf(treatment, materials);
  pushRun(uses, "camera run", length, camera, 1000);
  pushRun(uses, "cleaning", length, cleaning, 1000);
  pushRun(uses, "root cutting", length, rootCutting, 1000);
  pushRun(uses, "grout", length, grout, materials.grout.perMetre * 1000);
}

function pushRun(
  uses: MaterialUse[],
  item: TakeoffItem,
  length: Metres,
  times: number,
  perMetre: number,
): void {
  if (times !== 0) push(uses, item, "", wholeUp(length * times * perMetre));
}

/** What a preparatory work uses beyond the passes of its treatment; a cleanout is counted by its bid line. */
function pushPreparation(
  uses: MaterialUse[],
  work: WorkKind,
  { hostLength }: Lateral,
  { materials }: Pick<Basis, "materials">,
): void {
  if (work === "clean and cut roots" && hostLength !== null)
    push(uses, "root cutting", "", wholeUp(hostLength.value * 1000));
  if (work === "grouting of running infiltration")
    push(uses, "grout", "", wholeUp(materials.grout.perStop * 1000));
}

function pushNewPipe(
  uses: MaterialUse[],
  work: "open-cut replacement" | "pipe bursting",
  { hostLength }: Lateral,
  bidLines: readonly BidLine[],
): void {
  const pipe = bidLines.find(({ item }) => item === work);
  if (pipe === undefined || hostLength === null)
    throw new RangeError(`pushNewPipe: ${work} without its bid line or its length`);
  push(uses, "new pipe", pipe.variant, wholeUp(hostLength.value * 1000));
}

/** Up to the next whole number, where a billionth over one is that number: 12.192 m are 12192 mm, not 12193. */
const wholeUp = (amount: number): number => Math.ceil(amount - 1e-6);
