import { describe, expect, it } from "vitest";
import { withWhatIsAsked } from "../../src/commands/plain-record.ts";
import { whyLateral } from "../../src/commands/why.ts";
import { recorded, SAMPLES } from "./sample-copy.ts";

class Base {
  readonly kept = 1;
  readonly #hidden: number = 2;
  get late(): number {
    return this.#hidden;
  }
}
class Derived extends Base {
  readonly own = [new Base()];
  get later(): Base {
    return new Base();
  }
}

describe("a record as JSON", () => {
  it("has what its classes work out when they are asked, beside what it holds", () => {
    const base = { kept: 1, late: 2 };
    const written = JSON.parse(JSON.stringify({ of: new Derived(), plain: { a: null } }, withWhatIsAsked));
    expect(written).toEqual({ of: { ...base, own: [base], later: base }, plain: { a: null } });
  });

  it("is whole in why --json: what nobody asks of most laterals is there too", async () => {
    const { io, said } = recorded();
    await whyLateral(`${SAMPLES}quennock-falls`, "00278", { json: true }, io);
    const { record } = JSON.parse(said.out);
    const { chosen, failure, choice } = record;
    expect(chosen.treatment).toBe(choice.treatment);
    expect(choice.reasons.length).toBeGreaterThan(0);
    expect(chosen.cost.total).toBe(
      chosen.cost.lines.reduce((sum: number, { extension }: { extension: number }) => sum + extension, 0),
    );
    expect(chosen.placed.wall.notes).toEqual(expect.any(Array));
    expect(chosen.placed.wall.crossCheck.glockWall).toBeGreaterThan(0);
    expect(chosen.placed.wetOut.millilitres).toBeGreaterThan(0);
    for (const part of ["cure", "forces", "flow", "times"])
      expect(chosen.placed[part]).toEqual(expect.any(Object));
    const { least, best, most } = failure.money.presentLoss;
    expect(least).toBeLessThan(best);
    expect(best).toBeLessThan(most);
  });
});
