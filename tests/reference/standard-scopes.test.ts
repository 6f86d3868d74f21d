import { describe, expect, it } from "vitest";
import { ONE_PIECE_SCOPE } from "../../src/engineering/connection-liner.ts";
import { standardScopes } from "../../src/reference/standard-scopes.ts";

const scope = (standard: string) =>
  standardScopes.scopes.find((candidate) => candidate.standard === standard)!;

describe("the scopes of the standards", () => {
  it("are named with the edition that was read, or as from memory", () => {
    // ASTM F1216, 2005: 4 to 108 in; F2599-16: 4 to 60 in; F3541-22: 3 to 60 in. 1 in = 25.4 mm.
    expect(scope("ASTM F1216")).toMatchObject({ edition: "2005", host: { least: 101.6, most: 2743.2 } });
    expect(scope("ASTM F2599")).toMatchObject({ edition: "16", host: { least: 101.6, most: 1524 } });
    expect(scope("ASTM F3541")).toMatchObject({ edition: "22", host: { least: 76.2, most: 1524 } });
    expect(scope("ASTM F1743").fromMemory).toBe(true);
  });

  it("agree with the engineering's own scope of the one-piece standard", () => {
    const { host, main, longest } = scope("ASTM F2561");
    expect(host?.least).toBeCloseTo(ONE_PIECE_SCOPE.lateral.least, 9);
    expect(host?.most).toBeCloseTo(ONE_PIECE_SCOPE.lateral.most, 9);
    expect(main?.least).toBeCloseTo(ONE_PIECE_SCOPE.main.least, 9);
    expect(main?.most).toBeCloseTo(ONE_PIECE_SCOPE.main.most, 9);
    expect(longest).toBeCloseTo(ONE_PIECE_SCOPE.upLateral.most, 9);
  });
});
