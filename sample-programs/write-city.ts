import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type CityForm, placesOf, type SurveyRow } from "./city-form.ts";
import { type City, foundCity, type SampleLateral } from "./city-model.ts";
import type { CitySpec, SampleStyle } from "./city-spec.ts";
import { csvRow } from "./csv-row.ts";
import { kaltwendel } from "./kaltwendel.ts";
import { Planting, type RunningTotal } from "./planting.ts";
import { programFile } from "./program-file.ts";
import { quennockFalls } from "./quennock-falls.ts";
import { Random } from "./random.ts";
import { siForm } from "./si-form.ts";
import { TextFile } from "./text-file.ts";
import { usForm } from "./us-form.ts";

const LATERAL_DRESS_STREAM = 3;
const SURVEY_DRESS_STREAM = 4;
const OBSERVATION_STREAM = 5;

export const citySpecs: Readonly<Record<SampleStyle, CitySpec>> = { us: quennockFalls, si: kaltwendel };
export const cityForms: Readonly<Record<SampleStyle, CityForm>> = { us: usForm, si: siForm };

export interface Order {
  readonly style: SampleStyle;
  /** Whole number, 1 or more. */
  readonly laterals: number;
  readonly seed: number;
  /** Clean files, one spelling of everything, no oddities. */
  readonly plain: boolean;
  readonly name: string;
}

export interface Written {
  readonly laterals: number;
  readonly lateralRows: number;
  readonly inspectionRows: number;
  readonly observationRows: number;
}

/** The two samples that come with the program. */
export const trackedSamples: Readonly<
  Record<SampleStyle, { readonly folder: string; readonly order: Order }>
> = {
  us: {
    folder: "quennock-falls",
    order: {
      style: "us",
      laterals: 400,
      seed: 2026,
      plain: false,
      name: "Quennock Falls lateral program 2026",
    },
  },
  si: {
    folder: "kaltwendel",
    order: { style: "si", laterals: 250, seed: 1871, plain: false, name: "Kaltwendel Hausanschlüsse 2026" },
  },
};

/** Writes laterals.csv, inspections.csv, program.json and, where the city has it, observations.csv into a folder. One pass, whatever the size. */
export async function writeCity(folder: string, order: Order): Promise<Written> {
  const city = foundCity(citySpecs[order.style], order.laterals, order.seed);
  const form = cityForms[order.style];
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "program.json"), programFile(city, form, order.name, order.plain));
  const encoding = form.file.encoding === "utf-8" ? "utf-8" : "windows-1252";
  const files = {
    laterals: await TextFile.create(join(folder, "laterals.csv"), encoding),
    inspections: await TextFile.create(join(folder, "inspections.csv"), encoding),
  };
  const seen =
    form.observations === null || order.plain
      ? null
      : await TextFile.create(join(folder, "observations.csv"), encoding);
  const head = headingsOf(form, order.plain);
  files.laterals.add(head.laterals);
  files.inspections.add(head.inspections);
  seen?.add(head.observations);
  const written = { laterals: order.laterals, lateralRows: 0, inspectionRows: 0, observationRows: 0 };
  for (const { laterals, inspections, observations } of rowsOf(city, form, order)) {
    written.lateralRows += laterals.length;
    written.inspectionRows += inspections.length;
    written.observationRows += observations.length;
    for (const row of laterals) if (files.laterals.add(row)) await files.laterals.flush();
    for (const row of inspections) if (files.inspections.add(row)) await files.inspections.flush();
    for (const row of observations) if (seen?.add(row) === true) await seen.flush();
  }
  await files.laterals.close();
  await files.inspections.close();
  await seen?.close();
  return written;
}

function headingsOf(form: CityForm, plain: boolean): Record<keyof Rows, string> {
  const line = (cells: readonly string[]) => csvRow(cells, form.file.delimiter, form.lineEnd);
  const mark = form.byteOrderMark && !plain ? "\ufeff" : "";
  const title = form.title === null || plain ? "" : line([form.title]);
  return {
    laterals: mark + title + line(form.laterals.headings.map(({ heading }) => heading)),
    inspections: mark + line(form.inspections.headings.map(({ heading }) => heading)),
    observations: mark + line((form.observations?.headings ?? []).map(({ heading }) => heading)),
  };
}

interface Rows {
  readonly laterals: readonly string[];
  readonly inspections: readonly string[];
  readonly observations: readonly string[];
}

/** The text of the files, a lateral at a time. */
function* rowsOf(city: City, form: CityForm, { plain, seed }: Order): Generator<Rows> {
  const { delimiter } = form.file;
  const line = (cells: readonly string[]) => csvRow(cells, delimiter, form.lineEnd);
  const random = new Random();
  const plantedLaterals = new Planting<SampleLateral>(plain ? [] : form.laterals.planted, city.laterals);
  const plantedSurveys = new Planting<SurveyRow>(plain ? [] : form.inspections.planted, city.laterals);
  const lengthAt = placesOf(form.laterals.headings).host_length;
  let running: RunningTotal = { district: "", length: 0 };
  let ordinal = 0;
  for (let index = 0; index < city.laterals; index++) {
    const lateral = city.lateralAt(index);
    const cells = form.laterals.write(lateral);
    const length = Number(cells[lengthAt]!.replace(",", "."));
    const { name } = lateral.district;
    running = { district: name, length: name === running.district ? running.length + length : length };
    if (!plain) form.laterals.dress(cells, lateral, random.restart(seed, LATERAL_DRESS_STREAM, index));
    const inspections: string[] = [];
    const observations: string[] = [];
    for (const survey of lateral.surveys) {
      ordinal += 1;
      const thing = { lateral, survey, ordinal };
      const surveyCells = form.inspections.write(thing);
      if (!plain)
        form.inspections.dress(surveyCells, thing, random.restart(seed, SURVEY_DRESS_STREAM, ordinal));
      if (form.observations !== null && !plain) {
        const rows = form.observations.write(thing, random.restart(seed, OBSERVATION_STREAM, ordinal));
        observations.push(...rows.map(line));
      }
      inspections.push(...plantedSurveys.rowsFor(surveyCells, thing, index, running).map(line));
    }
    yield {
      laterals: plantedLaterals.rowsFor(cells, lateral, index, running).map(line),
      inspections,
      observations,
    };
  }
}
