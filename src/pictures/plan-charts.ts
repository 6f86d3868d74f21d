import { showCount } from "../quantity/show-quantity.ts";
import type { ForecastYear } from "../season/forecast.ts";
import { type ChartOption, drawChart, INK, type Picture } from "./chart-svg.ts";

export interface NamedNumber {
  readonly name: string;
  readonly value: number;
}

const WIDTH = 760;
const LABEL = { color: INK, fontSize: 13 } as const;
const LINE = { lineStyle: { color: "#57606a" } } as const;

/** Long names are cut: the table beside the picture has them whole. */
const cutName = (name: string): string => (name.length > 24 ? `${name.slice(0, 23)}…` : name);

const total = (list: readonly NamedNumber[]): number => list.reduce((sum, { value }) => sum + value, 0);

/** Bars lying one under another, the first on top, each with its number. */
export function barsChart(
  list: readonly NamedNumber[],
  unit: string,
  what: string,
  shown: (value: number) => string,
): Picture {
  const option: ChartOption = {
    grid: { left: 190, right: 110, top: 8, bottom: 44 },
    xAxis: {
      type: "value",
      name: unit,
      nameLocation: "middle",
      nameGap: 28,
      nameTextStyle: LABEL,
      axisLabel: { ...LABEL, hideOverlap: true },
      splitLine: { lineStyle: { color: "#d0d7de" } },
    },
    yAxis: {
      type: "category",
      inverse: true,
      data: list.map(({ name }) => cutName(name)),
      axisLabel: { ...LABEL, interval: 0 },
      axisTick: { show: false },
      axisLine: LINE,
    },
    series: [
      {
        type: "bar",
        barMaxWidth: 22,
        data: list.map(({ value }) => value),
        label: {
          ...LABEL,
          show: true,
          position: "right",
          formatter: ({ dataIndex }) => shown(list[dataIndex]!.value),
        },
      },
    ],
  };
  const figures = list.map(({ name, value }) => `${name} ${shown(value)}`).join(", ");
  const alt = `Bars: ${what}, ${unit}. ${figures}. Together ${shown(total(list))}.`;
  return drawChart(option, WIDTH, 60 + 34 * Math.max(1, list.length), alt);
}

/**
 * The matrix of likelihood and consequence with the number of laterals in each field, which is printed: the shade only
 * follows likelihood × consequence.
 *
 * @param counts counts[likelihood − 1][consequence − 1]
 */
export function matrixChart(counts: readonly (readonly number[])[]): Picture {
  const levels = counts.map((_, i) => String(i + 1));
  const fields = counts.flatMap((row, likelihood) =>
    row.map((count, consequence) => ({
      value: [consequence, likelihood, (likelihood + 1) * (consequence + 1)],
      count,
    })),
  );
  const axis = (name: string) =>
    ({
      type: "category",
      data: levels,
      name,
      nameLocation: "middle",
      nameGap: 30,
      nameTextStyle: LABEL,
      axisLabel: LABEL,
      axisTick: { show: false },
      axisLine: LINE,
    }) as const;
  const option: ChartOption = {
    grid: { left: 64, right: 16, top: 12, bottom: 52 },
    xAxis: axis("Consequence, 5 is worst"),
    yAxis: axis("Likelihood, 5 is worst"),
    visualMap: {
      show: false,
      min: 1,
      max: 25,
      dimension: 2,
      inRange: { color: ["#ffffff", "#fde3c4", "#f5b37b", "#e07a4f"] },
    },
    series: [
      {
        type: "heatmap",
        data: fields.map(({ value }) => value),
        itemStyle: { borderColor: "#57606a", borderWidth: 1 },
        label: {
          show: true,
          color: "#000000",
          fontSize: 16,
          formatter: ({ dataIndex }) => showCount(fields[dataIndex]!.count),
        },
      },
    ],
  };
  const worst = fields.reduce((sum, { value, count }) => (value[2]! >= 15 ? sum + count : sum), 0);
  const all = fields.reduce((sum, { count }) => sum + count, 0);
  const alt = `Matrix of likelihood by consequence, 5 by 5, with the number of laterals in each field: ${showCount(all)} laterals, ${showCount(worst)} of them where the product is 15 or more.`;
  return drawChart(option, 520, 400, alt);
}

/** Laterals of grade 4 and 5, year by year, left alone and with the plan: two bars a year, hatched each in its own way. */
export function backlogChart(
  leftAlone: readonly ForecastYear[],
  asPlanned: readonly ForecastYear[],
  everyYears = 5,
): Picture {
  const shown = leftAlone.map(({ year }) => year).filter((year) => year % everyYears === 0);
  const poor = (years: readonly ForecastYear[], year: number): number => {
    const found = years.find((each) => each.year === year);
    if (found === undefined) throw new RangeError(`backlogChart: no year ${year} in one of the futures`);
    return Math.round(found.expected[4]! + found.expected[5]!);
  };
  const series = [
    { name: "left alone", values: shown.map((year) => poor(leftAlone, year)) },
    { name: "with this plan", values: shown.map((year) => poor(asPlanned, year)) },
  ];
  const option: ChartOption = {
    aria: { enabled: true, decal: { show: true } },
    grid: { left: 64, right: 16, top: 44, bottom: 52 },
    legend: { top: 4, itemGap: 40, textStyle: LABEL, itemWidth: 28, itemHeight: 16 },
    xAxis: {
      type: "category",
      data: shown.map((year) => (year === 0 ? "today" : `in ${year} years`)),
      axisLabel: { ...LABEL, interval: 0 },
      axisLine: LINE,
    },
    yAxis: {
      type: "value",
      name: "Laterals of grade 4 or 5",
      nameLocation: "middle",
      nameGap: 44,
      nameTextStyle: LABEL,
      axisLabel: LABEL,
      splitLine: { lineStyle: { color: "#d0d7de" } },
    },
    series: series.map(({ name, values }) => ({
      type: "bar",
      name,
      data: values,
      label: {
        ...LABEL,
        show: true,
        position: "top",
        formatter: ({ dataIndex }) => showCount(values[dataIndex]!),
      },
    })),
  };
  const words = series.map(({ name, values }) => `${name} ${values.map(showCount).join(", ")}`).join("; ");
  const alt = `Bars: expected number of laterals of grade 4 or 5 today and in ${shown.slice(1).join(", ")} years: ${words}.`;
  return drawChart(option, WIDTH, 360, alt);
}
