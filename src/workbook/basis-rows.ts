import type { TreatmentKind } from "../columns/plan-columns.ts";
import { isoDate } from "../quantity/calendar.ts";
import { quantities as measures, type QuantityMeasure, toShown } from "../quantity/measure.ts";
import { showNumber, unitLabel } from "../quantity/show-quantity.ts";
import { convert, units } from "../quantity/units.ts";
import type { AssumptionKey } from "../reference/assumptions.ts";
import type { Basis } from "../reference/basis.ts";
import type { Source } from "../reference/source.ts";
import { decimalsFormat, numberCell } from "./number-format.ts";
import type { Cell } from "./sheet-model.ts";

/** One value that the plan rests on. */
export interface BasisRow {
  readonly group: string;
  readonly what: string;
  readonly value: Cell;
  readonly unit: string;
  readonly source: Source;
}

/** Every value of the basis, group by group. A test changes each in turn and asks for a different sheet. */
export function allBasisRows(basis: Basis): readonly BasisRow[] {
  return [
    ...programRows(basis),
    ...assumptionRows(basis, Object.keys(basis.assumptions) as AssumptionKey[]),
    ...criteriaRows(basis),
    ...surfaceWheelRows(basis),
    ...liveLoadRows(basis),
    ...systemRows(basis),
    ...resinRows(basis),
    ...thresholdRows(basis),
    ...sectionRows(basis),
    ...placementRows(basis),
    ...riskRows(basis),
    ...crewTimeRows(basis),
    ...paymentRows(basis),
    ...priceRows(basis),
  ];
}

export function programRows({ program }: Basis): readonly BasisRow[] {
  const row = (what: string, value: string): BasisRow => ({
    group: "Program",
    what,
    value,
    unit: "",
    source: { document: "Settings of the program" },
  });
  return [
    row("Name", program.name),
    row("As-of date", isoDate(program.asOf)),
    row("Units shown", program.units === "us" ? "US customary" : "SI"),
    row("Currency", program.currency),
  ];
}

/** Values used where the city's files say nothing. */
export function assumptionRows(basis: Basis, keys: readonly AssumptionKey[]): readonly BasisRow[] {
  const row = rowsOf(basis, "Where the city's files say nothing");
  return keys.map((key) => {
    const { label, value, source } = basis.assumptions[key];
    if (typeof value === "string") return row.plain(label, value, "", source);
    return row.quantity(label, value, key === "ovality" ? "percent" : "length", source);
  });
}

/** What a liner wall is designed for. */
export function criteriaRows(basis: Basis): readonly BasisRow[] {
  const { criteria } = basis;
  const { source } = criteria;
  const row = rowsOf(basis, "Design criteria");
  return [
    row.plain("Set of criteria", criteria.key, "", source),
    row.plain("Deterioration of the host", criteria.deterioration, "", source),
    row.plain("Deterioration stated by", criteria.deteriorationBy || "nobody: the safe side", "", source),
    row.plain("Edition of the wall equations", criteria.edition, "", source),
    row.plain("Strength used in the equations", criteria.strengthBasis, "", source),
    row.plain("Safety factor", criteria.safetyFactor, "", source),
    row.plain("Enhancement factor", criteria.enhancement, "", source),
    row.plain("Poisson's ratio", criteria.poissonsRatio, "", source),
    row.quantity("Soil modulus", criteria.soilModulus, "modulus", source),
    row.quantity("Soil unit weight", criteria.soilUnitWeight, "unit_weight", source),
    row.quantity("Specified minimum wall", criteria.minimumWall, "wall", source),
    row.plain("Design wheel", criteria.wheel, "", source),
    row.plain("Live-load method", criteria.liveLoadMethod, "", source),
    row.plain("Impact table", criteria.impactTable, "", source),
  ];
}

export function surfaceWheelRows(basis: Basis): readonly BasisRow[] {
  const { values, source } = basis.surfaceWheels;
  const row = rowsOf(basis, "Wheel over each surface");
  return Object.entries(values).map(([surface, wheel]) =>
    row.plain(capital(surface), wheel === "design" ? `design wheel (${wheel})` : wheel, "", source),
  );
}

/** Lengths and widths that the specification asks for and bid quantities are measured by. */
export function placementRows(basis: Basis): readonly BasisRow[] {
  const { sectional, connection, openCut } = basis.treatments;
  const row = rowsOf(basis, "Placement");
  return [
    row.quantity(
      "Sectional liner, overlap on each side",
      sectional.overlapEachSide,
      "length",
      sectional.source,
    ),
    row.quantity("Connection liner, up the lateral", connection.lengthUpLateral, "length", connection.source),
    row.quantity("Connection liner, main each side", connection.mainEachSide, "length", connection.source),
    row.quantity("Open cut, trench width", openCut.trenchWidth, "length", openCut.source),
  ];
}

function sectionRows(basis: Basis): readonly BasisRow[] {
  const { stockedLengths, defectLength, source } = basis.treatments.sectional;
  const row = rowsOf(basis, "Sectional liners");
  return [
    row.quantities("Stocked lengths", stockedLengths.values, "length", source),
    row.quantity("Length taken for one defect", defectLength, "length", source),
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

function systemRows(basis: Basis): readonly BasisRow[] {
  const { system } = basis;
  const { propertySource, stockSource } = system;
  const row = rowsOf(basis, "Liner system");
  return [
    row.plain("System", `${system.label} (${system.key})`, "", propertySource),
    row.plain("Its resin", system.resin, "", propertySource),
    row.quantity("Short-term modulus", system.shortTermModulus, "modulus", propertySource),
    row.quantity("Flexural strength", system.flexuralStrength, "modulus", propertySource),
    row.quantity("Modulus kept in the long term", system.modulusRetention, "percent", propertySource),
    row.quantity("Strength kept in the long term", system.strengthRetention, "percent", propertySource),
    row.quantities("Stocked diameters", system.stockedDiameters, "diameter", stockSource),
    row.quantity("Host may differ from stock by", system.diameterTolerance, "percent", stockSource),
    row.quantities("Stocked walls", system.stockedWalls, "wall", stockSource),
    row.quantity("Longest liner", system.longestLength, "length", stockSource),
    row.quantity("Run-in", system.runIn, "length", stockSource),
    row.quantity("Run-out", system.runOut, "length", stockSource),
    row.quantity("Voids in the felt", system.voidRatio, "percent", stockSource),
    row.quantity("Excess resin", system.excess, "percent", stockSource),
  ];
}

function resinRows(basis: Basis): readonly BasisRow[] {
  const { key, label, cure, density, mix } = basis.resin;
  const row = rowsOf(basis, "Resin");
  return [
    row.plain("Resin", `${label} (${key})`, "", density.source),
    row.plain("Cure", cure, "", density.source),
    row.plain("Density of the mix", density.used, "kg/L", density.source),
    ...(mix === undefined
      ? []
      : [
          row.plain("Mix ratio stated", mix.basis, "", mix.source),
          row.plain("Base", mix.base, "parts", mix.source),
          row.plain("Hardener", mix.hardener, "parts", mix.source),
          row.plain("Density of the base", mix.baseDensity, "kg/L", mix.source),
          row.plain("Density of the hardener", mix.hardenerDensity, "kg/L", mix.source),
        ]),
  ];
}

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
    ...reinspectAfterYears.byGrade.map((years, grade) =>
      row.plain(`Re-inspect after, worst grade ${grade}`, years, "years", reinspectAfterYears.source),
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
  const perLength = (perMetre: number) => Number((perMetre * convert(1, length, "m")).toPrecision(12));
  return [
    row.plain("Productive time of a crew-day", steps.shiftMinutes, "min", steps.shiftSource),
    ...(Object.keys(steps.steps) as (TreatmentKind | "new cleanout")[]).flatMap((work) =>
      steps.steps[work].flatMap((step) => {
        const what = `${capital(work)}: ${step.step} (${step.position})`;
        const fixed = row.plain(what, step.minutes, "min", steps.source);
        if (step.perMetre === undefined) return [fixed];
        const unit = `min/${units[length].spellings[0]}`;
        return [
          fixed,
          {
            ...row.plain(`${what}, along the pipe`, 0, unit, steps.source),
            value: { kind: "number" as const, value: perLength(step.perMetre), format: decimalsFormat(3) },
          },
        ];
      }),
    ),
  ];
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
    quantity: (what: string, stored: number, measure: QuantityMeasure, source: Source): BasisRow => {
      const value = numberCell(stored, measure, program.units);
      if (typeof value !== "number")
        throw new RangeError(`basis row ${JSON.stringify(what)}: not a number, ${stored}`);
      const decimals = Math.max(measures[measure].decimals[program.units], 2);
      return row(
        what,
        {
          kind: "number",
          value,
          format: measure === "modulus" || measure === "force" ? decimalsFormat(0) : decimalsFormat(decimals),
        },
        unitLabel(measure, program),
        source,
      );
    },
    quantities: (
      what: string,
      stored: readonly number[],
      measure: QuantityMeasure,
      source: Source,
    ): BasisRow =>
      row(
        what,
        stored.map((value) => showNumber(value, measure, program)).join(", "),
        unitLabel(measure, program),
        source,
      ),
  };
}

const shown = ({ program }: Basis, value: number, measure: QuantityMeasure): string =>
  `${showNumber(value, measure, program)} ${unitLabel(measure, program)}`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
