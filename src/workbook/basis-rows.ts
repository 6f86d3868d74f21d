import { crewKinds } from "../columns/plan-columns.ts";
import { quantities as measures, type QuantityMeasure, toShown } from "../quantity/measure.ts";
import { showNumber, unitLabel } from "../quantity/show-quantity.ts";
import { convert, units } from "../quantity/units.ts";
import type { AssumptionKey } from "../reference/assumptions.ts";
import type { Basis } from "../reference/basis.ts";
import type { Source } from "../reference/source.ts";
import type { WorkStep } from "../reference/work-steps.ts";
import type { WorkKind } from "../reference/works.ts";
import type { FittedBasis } from "../season/fits.ts";
import { capital } from "./book-contents.ts";
import { dateCell, decimalsFormat, trimmed } from "./number-format.ts";
import type { Cell } from "./sheet-model.ts";
import { type BasisRow, tableRows } from "./table-rows.ts";

/** Every value of the basis, group by group. A test changes each in turn and asks for a different sheet. */
export function allBasisRows(basis: Basis): readonly BasisRow[] {
  return [
    ...programRows(basis),
    ...assumptionRows(basis, Object.keys(basis.assumptions) as AssumptionKey[]),
    ...criteriaRows(basis, Object.keys(basis.criteria) as CriterionKey[]),
    ...surfaceWheelRows(basis),
    ...liveLoadRows(basis),
    ...linerRows(basis),
    ...thresholdRows(basis),
    ...placementRows(basis),
    ...plannedPlacementRows(basis),
    ...riskRows(basis),
    ...recipeRows(basis),
    ...crewTimeRows(basis),
    ...otherTableRows(basis),
    ...paymentRows(basis),
    ...priceRows(basis),
  ];
}

/** Tables that have rows of their own wording here. */
const worded: ReadonlySet<string> = new Set<keyof FittedBasis>([
  // Worked out from the city's own tables, not assumed.
  "fits",
  // Compiled from the recipe, whose text has rows.
  "scores",
  "ownColumns",
  "filters",
  "ruleBook",
  "recipe",
  "program",
  "assumptions",
  "risk",
  "treatments",
  "criteria",
  "surfaceWheels",
  "liveLoads",
  "liners",
  "steps",
  "bidItems",
  "prices",
  "priceSource",
]);

/** Every other table as it is, so that a new one is never missing. */
function otherTableRows(basis: Basis): readonly BasisRow[] {
  return Object.entries(basis)
    .filter(([key]) => !worded.has(key))
    .flatMap(([key, table]) => {
      const group = capital(key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`));
      // A table that the program leaves out is null, and that is something to know.
      const values: object = typeof table === "object" && table !== null ? table : { given: table };
      return tableRows(group, values, basis.program, SETTINGS);
    });
}

/** Where a value stands that no table gives. */
const SETTINGS: Source = { document: "Settings of the program" };

export function programRows({ program }: Basis): readonly BasisRow[] {
  const row = (what: string, value: Cell): BasisRow => ({
    group: "Program",
    what,
    value,
    unit: "",
    source: SETTINGS,
  });
  return [
    row("Name", program.name),
    row("As-of date", dateCell(program.asOf, program.print.dates)),
    row("Units shown", program.units === "us" ? "US customary" : "SI"),
    row("Currency", program.currency),
    row("Paper", program.print.paper),
    row("Dates", program.print.dates),
  ];
}

/** How laterals are scored, and the program's own columns and filters, as written. */
function recipeRows({ recipe }: Basis): readonly BasisRow[] {
  const row = (what: string, value: string): BasisRow => ({
    group: "Recipe",
    what,
    value,
    unit: "",
    source: { document: "program.json", at: "recipe" },
  });
  const tables = "the tables of points of this sheet";
  return [
    row("Likelihood", recipe.likelihood ?? tables),
    row("Consequence", recipe.consequence ?? tables),
    row("Score", recipe.score ?? "likelihood * consequence"),
    ...Object.entries(recipe.columns).map(([key, text]) => row(columnName(recipe, key), text)),
    ...Object.entries(recipe.filters).map(([name, text]) => row(`Filter ${name}`, text)),
  ];
}

const columnName = ({ headings }: Basis["recipe"], key: string): string =>
  headings[key] === undefined ? `Column ${key}` : `Column ${key}, headed ${headings[key]}`;

/** Values used where the city's files say nothing. */
export function assumptionRows(basis: Basis, keys: readonly AssumptionKey[]): readonly BasisRow[] {
  const row = rowsOf(basis, "Where the city's files say nothing");
  return keys.map((key) => {
    const { label, value, unit, source } = basis.assumptions[key];
    if (typeof value === "string" || unit === "branches") return row.plain(label, value, "", source);
    return row.quantity(label, value, measureOfUnit(unit), source);
  });
}

function measureOfUnit(unit: string): QuantityMeasure {
  switch (unit) {
    case "m":
      return "length";
    case "fraction":
      return "percent";
    case "°C":
      return "temperature";
    default:
      throw new RangeError(`measureOfUnit: no measure is stored in ${JSON.stringify(unit)}`);
  }
}

export type CriterionKey = keyof Basis["criteria"];

/** What a liner wall is designed for. */
export function criteriaRows(
  { criteria, program }: Basis,
  keys: readonly CriterionKey[],
): readonly BasisRow[] {
  const picked = Object.fromEntries(keys.map((key) => [key, criteria[key]]));
  return tableRows("Design criteria", { ...picked, source: criteria.source }, program, SETTINGS);
}

export function surfaceWheelRows(basis: Basis): readonly BasisRow[] {
  const { values, source } = basis.surfaceWheels;
  const row = rowsOf(basis, "Wheel over each surface");
  return Object.entries(values).map(([surface, wheel]) =>
    row.plain(capital(surface), wheel === "design" ? "design wheel" : wheel, "", source),
  );
}

/** What is asked of a placed liner or a trench, and bid quantities are measured by: a bidder sees these. */
export function placementRows({ treatments, program }: Basis): readonly BasisRow[] {
  const { sectional, connection, openCut, bursting } = treatments;
  const { overlapEachSide } = sectional;
  const { lengthUpLateral, mainEachSide } = connection;
  const { trenchWidth } = openCut;
  const rows = (group: string, values: object, source: Source) =>
    tableRows(group, { ...values, source }, program, source);
  return [
    ...rows("Sectional liner", { overlapEachSide }, sectional.source),
    ...rows("Connection liner", { lengthUpLateral, mainEachSide }, connection.source),
    ...rows("Open cut", { trenchWidth }, openCut.source),
    ...tableRows("Pipe bursting", bursting, program, bursting.source),
  ];
}

/** The rest of those tables: what the plan counts on. */
function plannedPlacementRows({ treatments, program }: Basis): readonly BasisRow[] {
  const { overlapEachSide: _, stockedLengths, ...section } = treatments.sectional;
  const { lengthUpLateral: _length, mainEachSide: _main, ...connection } = treatments.connection;
  const { trenchWidth: _width, ...openCut } = treatments.openCut;
  const sectional = { stockedLengths: { values: stockedLengths.values }, ...section };
  return [
    ...tableRows("Sectional liner", sectional, program, section.source),
    ...tableRows("Connection liner", connection, program, connection.source),
    ...tableRows("Open cut", openCut, program, openCut.source),
  ];
}

export function paymentRows(basis: Basis): readonly BasisRow[] {
  const { bidItems, program } = basis;
  const row = rowsOf(basis, "Measurement and payment");
  const length = unitLabel("length", program);
  return [
    row.plain("Bid items and their wording", bidItems.items.length, "items", bidItems.source),
    row.plain(
      "Length included in a full-length liner",
      bidItems.includedLength[program.units],
      length,
      bidItems.includedLength.source,
    ),
    row.plain(
      "Depths to invert a new cleanout is paid by, up to",
      bidItems.cleanoutDepths[program.units].join(", "),
      length,
      bidItems.cleanoutDepths.source,
    ),
  ];
}

function liveLoadRows(basis: Basis): readonly BasisRow[] {
  const { liveLoads } = basis;
  const row = rowsOf(basis, "Live loads");
  const { spread, spreadSource } = liveLoads;
  const coverWords = (cover: number) => `${shown(basis, cover, "length")}`;
  return [
    ...Object.values(liveLoads.wheels).map((wheel) =>
      row.quantity(`Wheel ${wheel.name}`, wheel.load, "force", liveLoads.wheelSource),
    ),
    row.quantity(
      "Pipe length that shares one wheel",
      liveLoads.loadedLength,
      "length",
      liveLoads.loadedLengthSource,
    ),
    ...Object.values(liveLoads.impact).flatMap((table) =>
      table.steps.map((step) =>
        row.plain(
          `Impact, ${table.name}: from cover of ${coverWords(step.from)}`,
          step.factor,
          "",
          table.source,
        ),
      ),
    ),
    row.quantity("Spread, patch length", spread.patchLength, "diameter", spreadSource),
    row.quantity("Spread, patch width", spread.patchWidth, "diameter", spreadSource),
    ...Object.entries(spread.growth).map(([soil, growth]) =>
      row.plain(`Spread, growth with depth: ${soil}`, growth, "", spreadSource),
    ),
    row.plain("Spread, several wheels at once", spread.multiplePresence, "", spreadSource),
    row.quantity(
      "Spread, dynamic allowance at the surface",
      spread.dynamicAtSurface,
      "percent",
      spreadSource,
    ),
    row.quantity("Spread, dynamic allowance ends at cover", spread.dynamicVanishesAt, "length", spreadSource),
    ...Object.values(liveLoads.depthTables).flatMap((table) =>
      table.rows.map((line) =>
        row.quantity(
          `Depth table, ${table.name}: at cover of ${coverWords(line.cover)}`,
          line.pressure,
          "pressure",
          table.source,
        ),
      ),
    ),
  ];
}

/** What is chosen for each use; what several uses share is told once. */
function linerRows({ liners, program }: Basis): readonly BasisRow[] {
  const parts = new Map<string, { readonly part: string; readonly value: object; readonly uses: string[] }>();
  const all = Object.entries(liners);
  const ofUses = all.flatMap(([use, chosen]) => (isTable(chosen) ? [{ use, chosen }] : []));
  const without = Object.fromEntries(all.filter(([, chosen]) => !isTable(chosen)));
  for (const { use, chosen } of ofUses) {
    for (const [part, value] of Object.entries(chosen) as [string, object][]) {
      const same = `${part} ${JSON.stringify(value)}`;
      const known = parts.get(same);
      if (known === undefined) parts.set(same, { part, value, uses: [use] });
      else known.uses.push(use);
    }
  }
  const ofParts = [...parts.values()].flatMap(({ part, value, uses }) =>
    tableRows(
      uses.length === ofUses.length ? `Liner ${part}` : `Liner ${part}: ${uses.join(", ")}`,
      value,
      program,
      SETTINGS,
    ),
  );
  return [...ofParts, ...tableRows("Liner system", without, program, SETTINGS)];
}

const isTable = (value: unknown): value is object => typeof value === "object" && value !== null;

function thresholdRows(basis: Basis): readonly BasisRow[] {
  const { treatments } = basis;
  const { thresholds, thresholdSources, reinspectAfterYears } = treatments;
  const row = rowsOf(basis, "Treatment rules");
  const from = (key: keyof typeof thresholds): Source => thresholdSources[key] ?? treatments.source;
  return [
    row.plain(
      "Line from structural grade",
      thresholds.lineFromStructural,
      "grade",
      from("lineFromStructural"),
    ),
    row.plain(
      "Replace from structural grade",
      thresholds.digFromStructural,
      "grade",
      from("digFromStructural"),
    ),
    row.plain("Clean from O&M grade", thresholds.cleanFromOm, "grade", from("cleanFromOm")),
    row.plain("Line the connection from grade", thresholds.connectionFrom, "grade", from("connectionFrom")),
    row.plain(
      "Leave up to structural grade",
      thresholds.leaveUpToStructural,
      "grade",
      from("leaveUpToStructural"),
    ),
    row.plain("Leave up to O&M grade", thresholds.leaveUpToOm, "grade", from("leaveUpToOm")),
    row.plain(
      "Most defects for a sectional liner",
      thresholds.sectionalMostDefects,
      "defects",
      from("sectionalMostDefects"),
    ),
    row.quantity("Greatest ovality", thresholds.greatestOvality, "percent", from("greatestOvality")),
    row.plain("Survey too old after", thresholds.surveyTooOldYears, "years", from("surveyTooOldYears")),
    row.plain(
      "Two incomplete surveys joined within",
      thresholds.joinSurveysWithinDays,
      "days",
      from("joinSurveysWithinDays"),
    ),
    ...reinspectAfterYears.byGrade.map((years, grade) =>
      row.plain(`Re-inspect after, worst grade ${grade}`, years, "years", reinspectAfterYears.source),
    ),
    ...Object.entries(treatments.works).map(([treatment, works]) =>
      row.plain(
        `Works of: ${treatment}`,
        works.length === 0 ? "none" : works.join(", "),
        "",
        treatments.source,
      ),
    ),
    ...treatments.order.map((treatment, i) =>
      row.plain(`Choice ${i + 1} among eligible treatments`, treatment, "", treatments.source),
    ),
  ];
}

function riskRows(basis: Basis): readonly BasisRow[] {
  const { likelihood, uninspected, consequence } = basis.risk;
  const likely = rowsOf(basis, "Likelihood of failure");
  const serious = rowsOf(basis, "Consequence of failure");
  return [
    ...likelihood.structural.map((points, grade) =>
      likely.plain(`Structural grade ${grade}`, points, "points", likelihood.source),
    ),
    ...likelihood.om.map((points, grade) =>
      likely.plain(`O&M grade ${grade}`, points, "points", likelihood.omSource),
    ),
    ...likelihood.backups.map((points, count) =>
      likely.plain(
        `Added for ${["no backup", "one backup", "two backups or more"][count]}`,
        points,
        "points",
        likelihood.backupsSource,
      ),
    ),
    ...uninspected.bands.map((band) =>
      likely.plain(
        `Not inspected, from age ${band.fromAge} years`,
        band.points,
        "points",
        uninspected.source,
      ),
    ),
    likely.plain("Not inspected, age unknown", uninspected.ageUnknown, "points", uninspected.source),
    ...Object.entries(consequence.building).map(([building, points]) =>
      serious.plain(`Building: ${building}`, points, "points", consequence.source),
    ),
    ...Object.entries(consequence.surface).map(([surface, points]) =>
      serious.plain(`Surface: ${surface}`, points, "points", consequence.source),
    ),
    serious.quantity("Weight of the building", consequence.weights.building, "percent", consequence.source),
    serious.quantity("Weight of the surface", consequence.weights.surface, "percent", consequence.source),
  ];
}

function crewTimeRows(basis: Basis): readonly BasisRow[] {
  const { steps, program } = basis;
  const row = rowsOf(basis, "Crew time");
  const length = measures.length[program.units];
  const perLength = (perMetre: number) => trimmed(perMetre * convert(1, length, "m"));
  const unit = `min/${units[length].spellings[0]}`;
  return [
    row.plain("Productive time of a crew-day", steps.shiftMinutes, "min", steps.shiftSource),
    ...crewKinds.flatMap((crew) => [
      row.plain(`People of a ${crew} crew`, steps.crews[crew].people, "", steps.crewsSource),
      row.plain(`Inflation sets of a ${crew} crew`, steps.crews[crew].sets, "", steps.crewsSource),
    ]),
    row.plain(
      "Longest time occupants are without water",
      steps.longestOutageMinutes,
      "min",
      steps.outageSource,
    ),
    row.plain("Notice to occupants", steps.noticeDays, steps.noticeCountsIn, steps.noticeSource),
    row.plain("Work allowed from", steps.workHours.from, "h", steps.workHoursSource),
    row.plain("Work allowed to", steps.workHours.to, "h", steps.workHoursSource),
    ...(Object.keys(steps.steps) as WorkKind[]).flatMap((work) =>
      steps.steps[work].flatMap((step) => {
        const { minutes, perMetre, perBranch } = step;
        const what = `${capital(work)}: ${stepInWords(step)}`;
        return [
          row.plain(what, minutes, "min", steps.source),
          ...(perMetre === undefined
            ? []
            : [row.plain(`${what}, along the pipe`, perLength(perMetre), unit, steps.source)]),
          ...(perBranch === undefined
            ? []
            : [row.plain(`${what}, each branch opened`, perBranch, "min", steps.source)]),
        ];
      }),
    ),
  ];
}

/** A step with everything but its minutes: who, where, with what, after what. */
function stepInWords({ step, position, crew, people, equipment, plus, after, ...is }: WorkStep): string {
  const said = [
    position,
    `${crew} crew, ${people} ${people === 1 ? "person" : "people"}`,
    ...(equipment === undefined ? [] : [`with ${equipment.join(", ")}`]),
    ...(after.length === 0 ? [] : [`after ${after.map((before) => `"${before}"`).join(" and ")}`]),
    ...(plus === undefined ? [] : [`plus ${plus.join(" and ")} as worked out for the liner`]),
    ...(is.eachPiece === true ? ["for each section"] : []),
    ...(is.shared === undefined ? [] : [`a ${is.shared} that the works of one visit share`]),
    ...(is.crewMayLeave === undefined ? [] : ["the crew may go on meanwhile"]),
    ...(is.noWater === undefined ? [] : ["occupants without water"]),
  ];
  return `${step} (${said.join("; ")})`;
}

function priceRows(basis: Basis): readonly BasisRow[] {
  const { prices, priceSource, program } = basis;
  return Object.entries(prices).map(([line, price]) => ({
    group: "Unit prices",
    what: capital(line.replace(" | ", ", ")),
    value: {
      kind: "number" as const,
      value: toShown(price, "money", program.units),
      format: decimalsFormat(2),
    },
    unit: program.currency,
    source: { document: priceSource },
  }));
}

/** Makers of rows of one group. */
function rowsOf(basis: Basis, group: string) {
  const { program } = basis;
  const row = (what: string, value: Cell, unit: string, source: Source): BasisRow => ({
    group,
    what,
    value,
    unit,
    source,
  });
  return {
    plain: row,
    quantity: (what: string, stored: number, measure: QuantityMeasure, source: Source): BasisRow =>
      row(what, trimmed(toShown(stored, measure, program.units)), unitLabel(measure, program), source),
  };
}

const shown = ({ program }: Basis, value: number, measure: QuantityMeasure): string =>
  `${showNumber(value, measure, program)} ${unitLabel(measure, program)}`;
