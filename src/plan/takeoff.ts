import type { TreatmentKind } from "../columns/plan-columns.ts";
import { bendLength } from "../engineering/bend-length.ts";
import { type Metres, type Millimetres, metres } from "../quantity/si.ts";
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
  `${item}${SEPARATOR}${variant}`;
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
  for (const { liner } of works) if (liner !== null) uses.push(...ofLiner(liner, lateral, basis));
  uses.push(...alongLateral(treatment, lateral, basis));
  for (const { work, preparation } of works)
    if (preparation) uses.push(...ofPreparation(work, lateral, basis));
  for (const { item, variant, hundredths } of bidLines)
    if (item === "new cleanout" || item === "reinstatement")
      uses.push({ item, variant, amount: hundredths / 100 });
  for (const { work } of works)
    if (work === "open-cut replacement" || work === "pipe bursting")
      uses.push(newPipe(work, lateral, bidLines));
  for (const { work } of works)
    for (const { surface, area } of restoredSurfaces(work, lateral, basis))
      uses.push({ item: "surface restored", variant: surface, amount: wholeUp(area * 10_000) });
  return uses;
}

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

function ofLiner(
  liner: NonNullable<Liner>,
  lateral: Lateral,
  { program, placing, liners }: Pick<Basis, "program" | "placing" | "liners">,
): readonly MaterialUse[] {
  const size = sizeLabel(liner.nominalDiameter, program.units);
  const stock = `${size} x ${liner.wall} mm, ${chosenFor(liners, useOf[liner.kind]).system.key}`;
  const seals = (amount: number, variant = size): MaterialUse => ({ item: "end seal", variant, amount });
  const bladder: MaterialUse = { item: "bladder use", variant: size, amount: 1 };
  switch (liner.kind) {
    case "full length": {
      const { cut } = tubeCut(liner, lateral, placing);
      return [
        { item: "liner tube", variant: stock, amount: wholeUp(cut * 1000) },
        { item: "tube and sheet", variant: stock, amount: tubeArea(liner.nominalDiameter, cut) },
        seals(liner.endSeals),
        bladder,
      ];
    }
    case "section": {
      return [
        ...liner.pieces.map(
          ({ length }): MaterialUse => ({
            item: "sectional liner",
            variant: `${stock}, ${lengthLabel(length)}`,
            amount: 1,
          }),
        ),
        { item: "tube and sheet", variant: stock, amount: tubeArea(liner.nominalDiameter, liner.cutLength) },
        seals(liner.endSeals),
        { ...bladder, amount: liner.pieces.length },
      ];
    }
    case "connection": {
      const main = sizeLabel(liner.mainDiameter, program.units);
      return [
        { item: "connection liner", variant: `${main} main, ${stock}`, amount: 1 },
        { item: "tube and sheet", variant: stock, amount: sheetArea(liner) },
        ...sealsInMain(liner, main, seals),
        bladder,
      ];
    }
    case "one piece": {
      const main = sizeLabel(liner.mainDiameter, program.units);
      const { cut } = tubeCut(liner, lateral, placing);
      const beyond = metres(cut - liner.installedLength);
      return [
        { item: "one-piece liner", variant: `${main} main, ${stock}`, amount: 1 },
        // Made to its length with the part in the main, and cut from no roll.
        { item: "one-piece tube", variant: stock, amount: wholeUp(cut * 1000) },
        {
          item: "tube and sheet",
          variant: stock,
          amount: sheetArea(liner) + tubeArea(liner.nominalDiameter, beyond),
        },
        ...sealsInMain(liner, main, seals),
        bladder,
      ];
    }
    default:
      return liner satisfies never;
  }
}

/** Both parts as the geometry of the joint has them, in cm². */
const sheetArea = ({ takeoff: { mainSheet, lateralSheet } }: ConnectionPiece | OnePiece): number =>
  wholeUp((mainSheet + lateralSheet) * 10_000);

/** One at the top of the lateral, the others around the part in the main. */
const sealsInMain = (
  { endSeals }: ConnectionPiece | OnePiece,
  main: string,
  seals: (amount: number, variant?: string) => MaterialUse,
): readonly MaterialUse[] => [seals(1), seals(endSeals - 1, main)];

/** A stocked length in the unit stock is listed in. */
const lengthLabel = (length: Metres): string => `${Math.round(length * 1000)} mm`;

/** Laid flat: circumference times length, in cm². */
const tubeArea = (diameter: Millimetres, length: Metres): number =>
  wholeUp(((Math.PI * diameter) / 10) * length * 100);

function alongLateral(
  treatment: TreatmentKind,
  { hostLength }: Lateral,
  { materials }: Pick<Basis, "materials">,
): readonly MaterialUse[] {
  // Only a lateral that is looked at first can be of unknown length: its camera run is measured there.
  if (hostLength === null) return [];
  const { camera, cleaning, rootCutting, grout } = passesOf(treatment, materials);
  const runs: MaterialUse[] = [];
  const run = (item: TakeoffItem, times: number, perMetre = 1000): void => {
    if (times !== 0) runs.push({ item, variant: "", amount: wholeUp(hostLength.value * times * perMetre) });
  };
  run("camera run", camera);
  run("cleaning", cleaning);
  run("root cutting", rootCutting);
  run("grout", grout, materials.grout.perMetre * 1000);
  return runs;
}

/** What a preparatory work uses beyond the passes of its treatment; a cleanout is counted by its bid line. */
function ofPreparation(
  work: WorkKind,
  { hostLength }: Lateral,
  { materials }: Pick<Basis, "materials">,
): readonly MaterialUse[] {
  if (work === "clean and cut roots" && hostLength !== null)
    return [{ item: "root cutting", variant: "", amount: wholeUp(hostLength.value * 1000) }];
  if (work === "grouting of running infiltration")
    return [{ item: "grout", variant: "", amount: wholeUp(materials.grout.perStop * 1000) }];
  return [];
}

function newPipe(
  work: "open-cut replacement" | "pipe bursting",
  { hostLength }: Lateral,
  bidLines: readonly BidLine[],
): MaterialUse {
  const pipe = bidLines.find(({ item }) => item === work);
  if (pipe === undefined || hostLength === null)
    throw new RangeError(`newPipe: ${work} without its bid line or its length`);
  return { item: "new pipe", variant: pipe.variant, amount: wholeUp(hostLength.value * 1000) };
}

/** Up to the next whole number, where a billionth over one is that number: 12.192 m are 12192 mm, not 12193. */
const wholeUp = (amount: number): number => Math.ceil(amount - 1e-6);
