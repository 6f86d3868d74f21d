import { fileProblem, type Problem } from "../quantity/problem.ts";
import type { Alternate } from "../reference/bid-layout.ts";
import { numberAt, textAt } from "../sheet/table.ts";
import type { PlannedProgram } from "./planned-program.ts";

/** Which part of the bid each lateral is in, by its row: 0 is the base bid, 1 the first alternate. */
export type BidParts =
  | { readonly ok: true; readonly parts: Uint8Array }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const WHERE = "program.json, bid";

/**
 * Puts every lateral into the base bid or into the first alternate, in stated order, that takes it: each is bid once. A
 * name that the whole plan does not have, and an alternate or a base bid without paid work, are problems, because
 * bidders would be asked for a price of nothing.
 *
 * @param program the plan that is bid: the whole, or that of a season
 * @param seasons laterals of the saved seasons that alternates name
 */
export function bidPartsOf(
  program: PlannedProgram,
  whole: PlannedProgram,
  alternates: readonly Alternate[],
  seasons: ReadonlyMap<string, ReadonlySet<string>> = new Map(),
): BidParts {
  const problems: Problem[] = alternates.flatMap((alternate) => unknownNames(whole, alternate, seasons));
  if (problems.length > 0) return { ok: false, problems };
  const { laterals } = program;
  const taken = alternates.map((alternate) => takenBy(program, alternate, seasons));
  const parts = Uint8Array.from({ length: laterals.rows }, (_, row) => 1 + taken.findIndex((is) => is(row)));
  const paid = new Set<number>();
  for (let at = 0; at < program.lines.rows; at++)
    paid.add(parts[numberAt(program.lines, "lateral_row", at)]!);
  const empty = alternates
    .filter((_, i) => !paid.has(i + 1))
    .map(({ name }) => `alternate ${JSON.stringify(name)}`);
  if (alternates.length > 0 && !paid.has(0)) empty.unshift("the base bid");
  for (const what of empty)
    problems.push(
      fileProblem(
        WHERE,
        `${what} without a lateral that has paid work`,
        "work in the base bid and in every alternate",
        "Change what the alternates take, or take the alternate out; a lateral is in the first alternate that takes it.",
      ),
    );
  return problems.length > 0 ? { ok: false, problems } : { ok: true, parts };
}

function takenBy(
  program: PlannedProgram,
  { takes }: Alternate,
  seasons: ReadonlyMap<string, ReadonlySet<string>>,
): (row: number) => boolean {
  const { laterals, filters } = program;
  if (takes.kind === "filter") {
    const met = filters.find(({ name }) => name === takes.names[0])?.met;
    return (row) => met?.[row] === 1;
  }
  if (takes.kind === "season" || takes.kind === "beyond season") {
    const chosen = seasons.get(takes.names[0]);
    return (row) => chosen?.has(textAt(laterals, "lateral", row)) === (takes.kind === "season");
  }
  const names: ReadonlySet<string> = new Set(takes.names);
  const column = ({ districts: "district", treatments: "treatment", laterals: "lateral" } as const)[
    takes.kind
  ];
  return (row) => names.has(textAt(laterals, column, row));
}

/** Treatments are checked where program.json is read. */
function unknownNames(
  { laterals, filters, totals }: PlannedProgram,
  { name, takes }: Alternate,
  seasons: ReadonlyMap<string, ReadonlySet<string>>,
): readonly Problem[] {
  const known = (): ReadonlySet<string> => {
    switch (takes.kind) {
      case "districts":
        return new Set(totals.districts.map(({ district }) => district));
      case "laterals":
        return new Set(Array.from({ length: laterals.rows }, (_, row) => textAt(laterals, "lateral", row)));
      case "season":
      case "beyond season":
        return new Set(seasons.keys());
      case "filter":
        return new Set(filters.map((filter) => filter.name));
      case "treatments":
        return new Set(takes.names);
      default:
        return takes satisfies never;
    }
  };
  const there = known();
  return takes.names
    .filter((each) => !there.has(each))
    .map((each) =>
      fileProblem(
        `${WHERE}, alternate ${JSON.stringify(name)}`,
        each,
        {
          districts: "a district of the plan",
          laterals: "the id of a lateral",
          season: "the name of a saved season",
          "beyond season": "the name of a saved season",
          filter: "the name of a filter of the recipe",
          treatments: "a treatment",
        }[takes.kind],
        "Write it as the plan has it, or take it out.",
      ),
    );
}
