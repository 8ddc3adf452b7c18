import { choiceOf, data, nested, pieceOf, say, signedArea, WIDER } from "./common.js";

const TURNS = { 1: "fixed", 2: "half", 4: "quarter" };

export function strips({ names, wider, ...effort }) {
  const rows = data("strip/published.json").rows.filter(
    ({ name }) => names.length === 0 || names.includes(name),
  );
  let [short, worst] = [0, 0];
  say("strip      seeds: density %               mean    best  published  of method  first s");
  for (const { name, bestKnownDensity, meanDensity = {} } of rows) {
    const { stripWidth, allowedRotationsDeg, items } = data(`strip/${name}.json`);
    const turn = TURNS[allowedRotationsDeg.length];
    const pieces = items.map(({ points, demand }, index) =>
      pieceOf(`p${index}`, points, demand, turn, true),
    );
    const area = items.reduce((sum, { points, demand }) => {
      return sum + Math.abs(signedArea(points)) * demand;
    }, 0);
    const runs = effort.seeds.map((seed) => {
      const choice = choiceOf(name, stripWidth * (wider ? WIDER : 1), null);
      const { best, first } = nested(pieces, choice, { ...effort, seed });
      return { first, density: (100 * area) / (stripWidth * best.sheets[0].heightMm) };
    });
    const densities = runs.map(({ density }) => density);
    const mean = densities.reduce((sum, density) => sum + density, 0) / densities.length;
    const known = bestKnownDensity ?? 100;
    short += known - mean;
    worst = Math.max(worst, known - mean);
    const method = Object.values(meanDensity)[0];
    say(
      [
        name.padEnd(10),
        densities
          .map((density) => density.toFixed(2))
          .join(" ")
          .padEnd(30),
        mean.toFixed(2).padStart(6),
        Math.max(...densities)
          .toFixed(2)
          .padStart(7),
        known.toFixed(2).padStart(10),
        (method?.toFixed(2) ?? "").padStart(10),
        Math.max(...runs.map(({ first }) => first))
          .toFixed(2)
          .padStart(8),
      ].join(" "),
    );
  }
  say(
    `short of the best published: ${(short / rows.length).toFixed(2)} points in the mean, ${worst.toFixed(2)} at worst`,
  );
}
