import { describe, expect, it } from "vitest";
import { onceFor } from "../../src/quantity/once-for.ts";

describe("what is made of an object", () => {
  it("is made once for each object, and not for one that only looks alike", () => {
    const asked: string[] = [];
    const made = onceFor(({ name }: { readonly name: string }) => {
      asked.push(name);
      return [name];
    });
    const [one, twin] = [{ name: "one" }, { name: "one" }];
    expect(made(one)).toBe(made(one));
    expect(made(twin)).not.toBe(made(one));
    expect(asked).toEqual(["one", "one"]);
  });
});
