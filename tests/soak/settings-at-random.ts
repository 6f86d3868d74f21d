import * as z from "zod";
import type { Random } from "../../sample-programs/random.ts";
import { settingsSchema } from "../../src/program/settings-schema.ts";
import { pick } from "./mutate.ts";

interface Node {
  readonly type?: string;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly anyOf?: readonly Node[];
  readonly properties?: Readonly<Record<string, Node>>;
  readonly propertyNames?: Node;
  readonly additionalProperties?: Node | boolean;
  readonly items?: Node | boolean;
  readonly minimum?: number;
  readonly maximum?: number;
}

const schema = z.toJSONSchema(settingsSchema, { unrepresentable: "any" }) as Node;

const NUMBERS = [0, -0, 1, -1, 0.5, 2, 3, 10, 100, 1e9, 1e308, -1e308, 5e-324, 2 ** 53, 0.1 + 0.2];
const TEXTS = [
  "",
  " ",
  "4 in",
  "100 mm",
  "clay",
  "2026-03-01",
  "2026-02-30",
  "USD",
  "__proto__",
  "../x",
  "a/b.csv",
  "é",
  "1e999",
];

/**
 * Parts for program.json of the right shape and any content: what tables, criteria and recipes may be laid over with.
 * About one in twelve values is of another kind.
 */
export function settingsAtRandom(
  random: Random,
  whole: Readonly<Record<string, unknown>>,
): Record<string, unknown> {
  const settings: Record<string, unknown> = { ...whole };
  const optional = Object.keys(schema.properties ?? {}).filter(
    (key) => key !== "schema" && key !== "laterals",
  );
  for (let parts = 1 + random.below(2); parts > 0; parts--) {
    const key = random.chance(0.75) ? "criteria" : pick(random, optional);
    const node = schema.properties?.[key];
    if (node !== undefined) settings[key] = valueFor(random, node, 0);
  }
  return settings;
}

function valueFor(random: Random, node: Node, depth: number): unknown {
  if (random.below(12) === 0 && depth > 1) return pick(random, [null, true, [], {}, ...NUMBERS, ...TEXTS]);
  if (node.const !== undefined) return node.const;
  if (node.enum !== undefined) return pick(random, node.enum);
  if (node.anyOf !== undefined) return valueFor(random, pick(random, node.anyOf), depth);
  switch (node.type) {
    case "object":
      return objectOf(random, node, depth);
    case "array":
      return Array.from({ length: random.below(4) }, () =>
        valueFor(random, typeof node.items === "object" ? node.items : {}, depth + 1),
      );
    case "number":
    case "integer": {
      const { minimum = -10, maximum = 1000 } = node;
      const value = random.chance(0.3)
        ? pick(random, NUMBERS)
        : minimum + random.next() * (Math.min(maximum, minimum + 1000) - minimum);
      return node.type === "integer" ? Math.round(value) : value;
    }
    case "boolean":
      return random.chance(0.5);
    default:
      return pick(random, TEXTS);
  }
}

function objectOf(random: Random, node: Node, depth: number): Record<string, unknown> {
  const keys = Object.keys(node.properties ?? {});
  const share = depth === 0 ? 1 / Math.max(1, keys.length) : 0.5;
  const value: Record<string, unknown> = {};
  for (const key of keys)
    if (random.chance(share)) value[key] = valueFor(random, node.properties![key]!, depth + 1);
  const extra = node.additionalProperties;
  if (typeof extra === "object")
    for (let count = random.below(3); count > 0; count--)
      value[String(pick(random, node.propertyNames?.enum ?? TEXTS))] = valueFor(random, extra, depth + 1);
  return value;
}
