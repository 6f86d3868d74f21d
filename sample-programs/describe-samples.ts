import { foundCity, type SampleLateral } from "./city-model.ts";
import type { CitySpec } from "./city-spec.ts";
import { citySpecs } from "./write-city.ts";

/** Large enough that a share in the tables moves by less than a point from seed to seed. */
const MEASURED_LATERALS = 50_000;
const MEASURED_SEED = 1;
/** Ages are counted at the end of the last season. */
const MEASURED_YEAR = 2025;

/** Markdown tables of what the generator makes, counted from its laterals. */
export function describeSamples(): string {
  return [citySpecs.us, citySpecs.si].map(describeCity).join("\n\n");
}

function describeCity(spec: CitySpec): string {
  const city = foundCity(spec, MEASURED_LATERALS, MEASURED_SEED);
  const laterals = Array.from({ length: city.laterals }, (_, index) => city.lateralAt(index));
  return [
    `### ${spec.name}, ${MEASURED_LATERALS} laterals, seed ${MEASURED_SEED}`,
    section("Districts", districts(spec, laterals)),
    section("Age in 2025", ages(laterals)),
    section("Material", materials(laterals)),
    section("Length and diameter", sizes(spec, laterals)),
    section("Surveys and cross-bores", surveys(laterals)),
    section(
      "Share at structural grade 4 or 5 in the last survey, by age and material (— under 30 surveyed)",
      wear(laterals),
    ),
    section("By operation grade of the last survey", operation(laterals)),
  ].join("\n\n");
}

const section = (title: string, table: string) => `**${title}**\n\n${table}`;

function districts(spec: CitySpec, laterals: readonly SampleLateral[]): string {
  return markdown(
    ["district", "what it is like", "laterals", "median year", "mean length m", "surveyed", "grade 4–5"],
    spec.districts.map((district) => {
      const own = laterals.filter((lateral) => lateral.district === district);
      const seen = own.filter((lateral) => lateral.surveys.length > 0);
      return [
        district.name,
        district.about,
        percent(own.length, laterals.length),
        String(
          quantile(
            own.map((lateral) => lateral.installYear),
            0.5,
          ),
        ),
        mean(own.map((lateral) => lateral.length)).toFixed(1),
        percent(seen.length, own.length),
        percent(seen.filter(isPoor).length, seen.length),
      ];
    }),
  );
}

const AGE_BANDS = [
  [0, 24],
  [25, 49],
  [50, 74],
  [75, 99],
  [100, 140],
] as const;
const ageOf = (lateral: SampleLateral) => MEASURED_YEAR - lateral.installYear;
const bandName = ([from, to]: readonly [number, number]) => (from === 100 ? "100 and more" : `${from}–${to}`);
const inBand =
  ([from, to]: readonly [number, number]) =>
  (lateral: SampleLateral) =>
    ageOf(lateral) >= from && ageOf(lateral) <= to;

function ages(laterals: readonly SampleLateral[]): string {
  return markdown(
    ["years", "laterals", "surveyed", "mean structural grade", "mean operation grade"],
    AGE_BANDS.map((band) => {
      const own = laterals.filter(inBand(band));
      const seen = own.flatMap((lateral) => lateral.surveys.slice(-1));
      return [
        bandName(band),
        percent(own.length, laterals.length),
        percent(seen.length, own.length),
        mean(seen.map((survey) => survey.structuralGrade)).toFixed(2),
        mean(seen.map((survey) => survey.omGrade)).toFixed(2),
      ];
    }),
  );
}

function materialsOf(laterals: readonly SampleLateral[]): string[] {
  const counts = new Map<string, number>();
  for (const { material } of laterals) counts.set(material, (counts.get(material) ?? 0) + 1);
  return [...counts].toSorted((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([material]) => material);
}

function materials(laterals: readonly SampleLateral[]): string {
  return markdown(
    ["material", "laterals", "median year", "mean structural grade", "mean operation grade"],
    materialsOf(laterals).map((material) => {
      const own = laterals.filter((lateral) => lateral.material === material);
      const seen = own.flatMap((lateral) => lateral.surveys.slice(-1));
      return [
        material,
        percent(own.length, laterals.length),
        String(
          quantile(
            own.map((lateral) => lateral.installYear),
            0.5,
          ),
        ),
        mean(seen.map((survey) => survey.structuralGrade)).toFixed(2),
        mean(seen.map((survey) => survey.omGrade)).toFixed(2),
      ];
    }),
  );
}

function sizes(spec: CitySpec, laterals: readonly SampleLateral[]): string {
  const lengths = laterals.map((lateral) => lateral.length);
  const rows = [
    ["mean", mean(lengths)],
    ["shortest tenth, up to", quantile(lengths, 0.1)],
    ["median", quantile(lengths, 0.5)],
    ["longest tenth, from", quantile(lengths, 0.9)],
  ] as const;
  return markdown(
    ["", "value"],
    [
      ...rows.map(([name, value]) => [
        `length, ${name}`,
        `${value.toFixed(1)} m (${(value / 0.3048).toFixed(0)} ft)`,
      ]),
      ...spec.sizes.map((size) => [
        `inside diameter ${spec.style === "us" ? `${(size / 25.4).toFixed(0)} in` : `${size} mm`}`,
        percent(laterals.filter((lateral) => lateral.diameter === size).length, laterals.length),
      ]),
    ],
  );
}

function surveys(laterals: readonly SampleLateral[]): string {
  const all = laterals.flatMap((lateral) => lateral.surveys);
  const whole = laterals.filter((lateral) => lateral.surveys.some((survey) => survey.complete));
  return markdown(
    ["", "share"],
    [
      ...[0, 1, 2, 3].map((count) => [
        `laterals with ${count} ${count === 1 ? "survey" : "surveys"}`,
        percent(laterals.filter((lateral) => lateral.surveys.length === count).length, laterals.length),
      ]),
      ["surveys that were cut short", percent(all.filter((survey) => !survey.complete).length, all.length)],
      [
        "surveys with ovality measured",
        percent(all.filter((survey) => survey.ovality !== null).length, all.length),
      ],
      ["laterals surveyed whole", percent(whole.length, laterals.length)],
      [
        "of these, cross-bore cleared",
        percent(whole.filter((lateral) => lateral.crossBore === "cleared").length, whole.length),
      ],
      [
        "of these, cross-bore found",
        percent(whole.filter((lateral) => lateral.crossBore === "found").length, whole.length),
      ],
    ],
  );
}

function wear(laterals: readonly SampleLateral[]): string {
  const surveyed = laterals.filter((lateral) => lateral.surveys.length > 0);
  return markdown(
    ["material", ...AGE_BANDS.map(bandName)],
    materialsOf(laterals).map((material) => [
      material,
      ...AGE_BANDS.map((band) => {
        const own = surveyed.filter((lateral) => lateral.material === material && inBand(band)(lateral));
        return own.length < 30 ? "—" : percent(own.filter(isPoor).length, own.length);
      }),
    ]),
  );
}

function operation(laterals: readonly SampleLateral[]): string {
  return markdown(
    ["operation grade", "laterals surveyed", "mean backups in 5 years", "mean structural grade"],
    [0, 1, 2, 3, 4, 5].map((grade) => {
      const own = laterals.filter((lateral) => lateral.surveys.at(-1)?.omGrade === grade);
      return [
        String(grade),
        percent(own.length, laterals.filter((lateral) => lateral.surveys.length > 0).length),
        mean(own.map((lateral) => lateral.backups)).toFixed(2),
        mean(own.map((lateral) => lateral.surveys.at(-1)!.structuralGrade)).toFixed(2),
      ];
    }),
  );
}

const isPoor = (lateral: SampleLateral) => lateral.surveys.at(-1)!.structuralGrade >= 4;

/** @throws RangeError for nothing: a mean of nothing is not a number to print */
function mean(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError("mean needs a value");
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The value that the given part of the values does not exceed. */
function quantile(values: readonly number[], part: number): number {
  const inOrder = values.toSorted((a, b) => a - b);
  return inOrder[Math.ceil(part * inOrder.length) - 1]!;
}

const percent = (count: number, of: number) => `${((100 * count) / of).toFixed(1)} %`;

/** Cells padded to one width a column, as the formatter of this project's Markdown pads them. */
function markdown(headings: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = headings.map((heading, i) =>
    Math.max(3, heading.length, ...rows.map((row) => row[i]!.length)),
  );
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell, i) => cell.padEnd(widths[i]!)).join(" | ")} |`;
  return [line(headings), line(widths.map((width) => "-".repeat(width))), ...rows.map(line)].join("\n");
}
