import * as z from "zod";
import data from "../../shared/live-loads.json" with { type: "json" };
import { fraction, kilopascals, metres, millimetres, newtons } from "../quantity/si.ts";
import { sourceSchema } from "./source.ts";

const positive = z.number().positive();
const impactTable = z.object({
  source: sourceSchema,
  steps: z.array(z.object({ fromMetres: z.number().min(0), factor: positive })).min(1),
});
const depthTable = z.object({
  source: sourceSchema,
  rows: z.array(z.object({ coverMetres: positive, kilopascals: z.number().min(0) })).min(1),
});

const schema = z.object({
  wheels: z.object({ source: sourceSchema, values: z.record(z.string(), z.object({ newtons: positive })) }),
  loadedLength: z.object({ source: sourceSchema, metres: positive }),
  impact: z.record(z.string(), impactTable),
  spread: z.object({
    source: sourceSchema,
    patchLengthMillimetres: positive,
    patchWidthMillimetres: positive,
    growth: z.record(z.string(), positive),
    multiplePresence: positive,
    dynamicAtSurface: positive,
    dynamicVanishesAtMetres: positive,
  }),
  depthTables: z.record(z.string(), depthTable),
});

const table = schema.parse(data);

/** The list with at least one member that the schema has already asked for. */
const atLeastOne = <T>(list: readonly T[]): readonly [T, ...T[]] => list as unknown as readonly [T, ...T[]];

/** Wheels, impact tables and spreads by name, in the program's units, in the shapes the load formulas take. */
export const liveLoads = {
  wheels: Object.fromEntries(
    Object.entries(table.wheels.values).map(([name, wheel]) => [
      name,
      { name, load: newtons(wheel.newtons) },
    ]),
  ),
  wheelSource: table.wheels.source,
  loadedLength: metres(table.loadedLength.metres),
  loadedLengthSource: table.loadedLength.source,
  impact: Object.fromEntries(
    Object.entries(table.impact).map(([name, { source, steps }]) => [
      name,
      {
        name,
        source,
        steps: atLeastOne(steps.map((step) => ({ from: metres(step.fromMetres), factor: step.factor }))),
      },
    ]),
  ),
  spread: {
    patchLength: millimetres(table.spread.patchLengthMillimetres),
    patchWidth: millimetres(table.spread.patchWidthMillimetres),
    growth: table.spread.growth,
    multiplePresence: table.spread.multiplePresence,
    dynamicAtSurface: fraction(table.spread.dynamicAtSurface),
    dynamicVanishesAt: metres(table.spread.dynamicVanishesAtMetres),
  },
  spreadSource: table.spread.source,
  depthTables: Object.fromEntries(
    Object.entries(table.depthTables).map(([name, { source, rows }]) => [
      name,
      {
        name,
        source,
        rows: atLeastOne(
          rows.map((row) => ({ cover: metres(row.coverMetres), pressure: kilopascals(row.kilopascals) })),
        ),
      },
    ]),
  ),
};

export type LiveLoads = typeof liveLoads;
