import { stat } from "node:fs/promises";
import type { BlockageFits } from "../cohort/blockage-tables.ts";
import type { InspectionFile } from "../columns/city-file.ts";
import type { InspectionReading } from "../intake/inspection-file.ts";
import type { InspectionsAhead } from "../intake/inspections-ahead.ts";
import { cityFilePath, MOST_BYTES, readInside, SETTINGS_FILE } from "../program/program-files.ts";
import type { Basis } from "../reference/basis.ts";
import type { RecordRows } from "../season/city-record.ts";
import type { FittedBasis } from "../season/fits.ts";
import type { PlannedBlock, SharedPlan } from "../season/plan-blocks.ts";
import type { PlanTables } from "../season/plan-tables.ts";
import type { ProgramTables } from "../season/program-tables.ts";
import type { Ranking } from "../season/rank.ts";
import type { DistrictSums } from "../season/totals.ts";
import type { Table } from "../sheet/table.ts";
import { SecondThread, type Threading } from "./second-thread.ts";

/** What the second thread is asked to do. Data only, columns in shared memory. */
export type BesideJob =
  | {
      readonly kind: "read inspections";
      readonly folder: string;
      readonly files: readonly InspectionFile[];
      readonly ownWords: InspectionReading["ownWords"];
      /** What it will plan with, which it prepares when it has read. */
      readonly basis: Basis;
    }
  | {
      readonly kind: "read record";
      readonly tables: ProgramTables;
      readonly basis: Basis;
      readonly rows: RecordRows;
    }
  | {
      readonly kind: "plan rows";
      readonly tables: ProgramTables;
      /** Its formulas as text: the thread compiles them again. */
      readonly basis: Basis;
      readonly fits: FittedBasis["fits"];
      readonly plan: SharedPlan;
    }
  | { readonly kind: "fit blockages"; readonly rows: RecordRows; readonly basis: Basis }
  | { readonly kind: "rank"; readonly laterals: Table }
  | {
      readonly kind: "sum";
      readonly written: PlanTables;
      /** The city's, for their districts. */
      readonly laterals: Table;
      readonly basis: Pick<Basis, "program">;
    };

export type BesideDone =
  | { readonly kind: "read inspections"; readonly parts: readonly InspectionsAhead[] }
  | { readonly kind: "read record" }
  | { readonly kind: "plan rows"; readonly blocks: readonly PlannedBlock[] }
  | { readonly kind: "fit blockages"; readonly fits: BlockageFits }
  | { readonly kind: "rank"; readonly ranking: Ranking }
  | { readonly kind: "sum"; readonly sums: DistrictSums };

/** The thread that works beside the one that reads and plans a big city. */
export class PlanThread extends SecondThread<BesideJob, BesideDone> {
  /** What it makes of a job of one kind; null where it fails: whoever asked does that job too, and a failure changes nothing but the time. */
  async doneBeside<Kind extends BesideJob["kind"]>(
    job: BesideJob & { readonly kind: Kind },
  ): Promise<Extract<BesideDone, { readonly kind: Kind }> | null> {
    const done = await this.ask(job).catch(() => null);
    if (done === null || isOfKind(done, job.kind)) return done;
    throw new RangeError(`PlanThread: asked to ${job.kind}, it ${done.kind}`);
  }
}

const isOfKind = <Kind extends BesideDone["kind"]>(
  done: BesideDone,
  kind: Kind,
): done is Extract<BesideDone, { readonly kind: Kind }> => done.kind === kind;

/**
 * The thread for a program folder, started at once where its laterals are many: it is ready when this one has loaded what reads settings,
 * some 0.15 s sooner than one started then.
 */
export async function threadAhead(folder: string, threading?: Threading): Promise<PlanThread> {
  const second = new PlanThread(threading);
  second.startFor(await bytesOfLaterals(folder));
  return second;
}

/** Bytes of the lateral file as far as the settings tell at a glance; 0 where they do not. What is wrong with them is said by who reads them. */
async function bytesOfLaterals(folder: string): Promise<number> {
  try {
    const place = await readInside(folder, SETTINGS_FILE, MOST_BYTES.settings);
    if (!place.ok) return 0;
    const { laterals } = JSON.parse(new TextDecoder().decode(place.bytes));
    return (await stat(await cityFilePath(folder, laterals.file))).size;
  } catch {
    return 0;
  }
}
