import type { Basis } from "../reference/basis.ts";
import type { RecipeItem, RecipeSeen } from "../screen/pane-data.ts";

const words = (key: string): string => key.replaceAll("_", " ");

/** What of a basis makes the ranking, as somebody may change it: formulas, columns, and the points and weights of the tables. */
export function recipeParts({ recipe, risk }: Basis): RecipeSeen["parts"] {
  const formula = (key: "likelihood" | "consequence" | "score", empty: string): RecipeItem => ({
    path: ["recipe", key],
    label: key,
    text: recipe[key] ?? "",
    empty,
  });
  const at = (path: readonly string[], label: string, value: number | readonly number[]): RecipeItem => ({
    path: ["criteria", "risk", ...path],
    label,
    text: typeof value === "number" ? String(value) : value.join(", "),
    empty: "as the house has it",
  });
  const { likelihood, consequence, uninspected } = risk;
  const columns = Object.entries(recipe.columns).map(
    ([key, text]): RecipeItem => ({
      path: ["recipe", "columns", key],
      label: key,
      text,
      empty: "no such column",
    }),
  );
  return [
    {
      heading: "Formulas",
      items: [
        formula("likelihood", "by the tables below"),
        formula("consequence", "by the tables below"),
        formula("score", "likelihood × consequence"),
      ],
    },
    ...(columns.length === 0 ? [] : [{ heading: "Own columns", items: columns }]),
    ...(recipe.consequence === null
      ? [
          {
            heading: "Weights of the consequence (they add up to 1)",
            items: [
              {
                path: ["criteria", "risk", "consequence", "weights"],
                label: "building, surface",
                text: `${consequence.weights.building}, ${consequence.weights.surface}`,
                empty: "as the house has it",
              },
            ],
          },
          {
            heading: "Points of the consequence, 1 to 5",
            items: [
              ...Object.entries(consequence.building).map(([key, points]) =>
                at(["consequence", "building", key], words(key), points),
              ),
              ...Object.entries(consequence.surface).map(([key, points]) =>
                at(["consequence", "surface", key], words(key), points),
              ),
            ],
          },
        ]
      : []),
    ...(recipe.likelihood === null
      ? [
          {
            heading: "Points of the likelihood",
            items: [
              at(["likelihood", "structural"], "structural 0 to 5", likelihood.structural),
              at(["likelihood", "om"], "O&M 0 to 5", likelihood.om),
              at(["likelihood", "backups"], "0, 1, 2+ backups add", likelihood.backups),
              at(["uninspected", "age_unknown"], "age not known", uninspected.ageUnknown),
            ],
          },
        ]
      : []),
  ];
}
