import { choiceOf, data, nested, pieceOf, say, WIDER } from "./common.js";

export function bins({ names, wider, ...effort }) {
  const { instances } = data("bins/jigsaw-bins.json");
  let [met, counted] = [0, 0];
  say("bins    pieces  optimum  seeds: bins (seconds)");
  for (const { name, bin, items, optimumBins } of instances) {
    if (names.length > 0 && !names.includes(name)) continue;
    const pieces = items.map((points, index) => pieceOf(`p${index}`, points, 1, "quarter", false));
    const [width, height] = bin.map((side) => side * (wider ? WIDER : 1));
    const runs = effort.seeds.map((seed) => {
      const choice = choiceOf(name, width, height);
      return nested(pieces, choice, { ...effort, seed }, ({ sheets }) => {
        return optimumBins !== null && sheets.length <= optimumBins;
      });
    });
    if (optimumBins !== null) counted++;
    if (runs.some(({ best }) => best.sheets.length === optimumBins)) met++;
    const found = runs.map(({ best, at }) => `${best.sheets.length} (${at.toFixed(1)})`).join("  ");
    say(
      `${name.padEnd(8)} ${String(items.length).padStart(5)} ${String(optimumBins ?? "?").padStart(8)}  ${found}`,
    );
  }
  say(`optimum met by some seed: ${met} of ${counted}`);
}
