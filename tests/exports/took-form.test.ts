import { describe, expect, it } from "vitest";
import { tookForm } from "../../src/exports/took-form.ts";
import { estimated, toolBoard } from "../worked/tool-board.ts";
import { rowsOf } from "../helpers/rows.ts";

const DONE = estimated(toolBoard());
const ROWS = rowsOf(tookForm(DONE));

function valueOf(id: string): number {
  return Number(DONE.figures.find((figure) => figure.id === id)?.value);
}

describe("the form of the hand-worked job", () => {
  it("has the machine's running minutes, by operation and as a whole", () => {
    const acrylic = ROWS.filter(({ item }) => item === "acrylic cast 3 mm");
    expect(acrylic.map(({ operation }) => operation)).toEqual(["engrave", "cut", "all"]);
    const minutes = acrylic.map(({ estimated: text }) => Number(text));
    expect(minutes[0]! + minutes[1]!).toBeCloseTo(minutes[2]!, 2);
    expect(minutes[2]).toBeCloseTo(valueOf("machine.acrylic_cast_3.running-minutes"), 2);
    const working = valueOf("machine.acrylic_cast_3.cut.working") / 60;
    expect(Number(acrylic[1]!["working_min"])).toBeCloseTo(working, 2);
    // At half the feed not quite twice as long, at twice more than half: corners stay as slow.
    const [half, twice] = ["half_feed_min", "twice_feed_min"].map((name) =>
      Number(acrylic[1]![name]),
    );
    expect(half! / working).toBeGreaterThan(1.9);
    expect(half! / working).toBeLessThan(2);
    expect(twice! / working).toBeGreaterThan(0.5);
    expect(twice! / working).toBeLessThan(0.6);
  });

  it("has sheets, cans and the minutes of every task", () => {
    const bought = DONE.shopping.filter(({ kind }) => kind === "sheet" || kind === "paint");
    const rows = ROWS.filter(({ what }) => what === "sheets" || what === "paint");
    expect(rows.map((row) => [row["item"], row["estimated"]])).toEqual(
      bought.map(({ item, quantity }) => [item, quantity]),
    );
    const tasks = ROWS.filter(({ what }) => what === "hand work");
    const sum = tasks.reduce((total, row) => total + Number(row["estimated"]), 0);
    const hours = DONE.figures.filter(({ id }) => /^work\..*\.hours$/.test(id));
    expect(sum / 60).toBeCloseTo(
      hours.reduce((total, { value }) => total + Number(value), 0),
      3,
    );
    // Drawing has 60 minutes in the table; for the assembly the job says its own.
    const each = Object.fromEntries(tasks.map((row) => [row["item"], row["each_min"]]));
    expect([each["drawing"], each["assemble"]]).toEqual(["60", ""]);
    expect(new Set(tasks.map(({ item }) => item)).size).toBe(tasks.length);
  });
});
