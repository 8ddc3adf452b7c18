import type { Bar, LengthWanted, SawPlan } from "../../../src/nesting/bars/saw-plan.ts";

/** The rule of kerfs, as trade facts 5.2 word it: n pieces with n - 1 cuts in the length less the trim. */
function fits(bar: Bar, lengths: readonly number[]): boolean {
  const cuts = Math.max(0, lengths.length - 1) * bar.sawKerfMm;
  return lengths.reduce((sum, length) => sum + length, cuts) <= bar.lengthMm - bar.endTrimMm + 1e-6;
}

/** What is wrong with a plan, judged without the search. */
export function faults(wanted: readonly LengthWanted[], plan: SawPlan): readonly string[] {
  const found: string[] = [];
  for (const { bar, pieces, leftMm } of plan.bars) {
    const lengths = pieces.map(({ lengthMm }) => lengthMm);
    const sum = lengths.reduce((total, length) => total + length, 0);
    if (!fits(bar, lengths)) found.push(`${lengths.join(" + ")} out of ${bar.lengthMm}`);
    if (leftMm > 0 && !fits(bar, [...lengths, leftMm])) found.push(`${leftMm} left of ${sum}`);
    if (leftMm < bar.lengthMm - bar.endTrimMm - sum - lengths.length * bar.sawKerfMm - 1e-6)
      found.push(`only ${leftMm} left of ${sum}`);
    if (pieces.length === 0) found.push("a bar for nothing");
  }
  for (const bar of new Set(plan.bars.map((one) => one.bar))) {
    const used = plan.bars.filter((one) => one.bar === bar).length;
    if (used > (bar.onHand ?? Infinity)) found.push(`${used} bars of ${bar.lengthMm}`);
  }
  for (const { name, lengthMm, count } of wanted) {
    const sawn = plan.bars.flatMap(({ pieces }) => pieces.filter((one) => one.name === name));
    const missing = plan.missing.filter((one) => one.name === name);
    const all = sawn.length + missing.reduce((sum, one) => sum + one.count, 0);
    if (all !== count) found.push(`${all} ${name} instead of ${count}`);
    if (sawn.some((one) => one.lengthMm !== lengthMm)) found.push(`${name} not ${lengthMm}`);
  }
  const cost = plan.bars.reduce((sum, { bar }) => sum + bar.price.toNumber(), 0);
  if (Math.abs(cost - plan.cost.toNumber()) > 1e-9)
    found.push(`cost ${cost}, not ${plan.cost.toString()}`);
  return found;
}

/** Fewest pieces missing, then least cost, then least length of bars: by every way to share them. */
export function bestByTrial(
  wanted: readonly LengthWanted[],
  bars: readonly Bar[],
): readonly [missing: number, cost: number, lengthMm: number] {
  const pieces = wanted.flatMap(({ lengthMm, count }) => Array<number>(count).fill(lengthMm));
  let best: readonly [number, number, number] = [pieces.length + 1, 0, 0];
  const open: { readonly bar: Bar; readonly lengths: number[] }[] = [];
  const lay = (at: number, missing: number, cost: number, lengthMm: number): void => {
    const [m, c, l] = best;
    if (missing > m || (missing === m && (cost > c || (cost === c && lengthMm >= l)))) return;
    const piece = pieces[at];
    if (piece === undefined) {
      best = [missing, cost, lengthMm];
      return;
    }
    for (const { bar, lengths } of open.slice()) {
      lengths.push(piece);
      if (fits(bar, lengths)) lay(at + 1, missing, cost, lengthMm);
      lengths.pop();
    }
    for (const bar of bars) {
      const used = open.filter((one) => one.bar === bar).length;
      if (used >= (bar.onHand ?? Infinity) || !fits(bar, [piece])) continue;
      open.push({ bar, lengths: [piece] });
      lay(at + 1, missing, cost + bar.price.toNumber(), lengthMm + bar.lengthMm);
      open.pop();
    }
    lay(at + 1, missing + 1, cost, lengthMm);
  };
  lay(0, 0, 0, 0);
  return best;
}
