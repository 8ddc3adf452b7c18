import { describe, expect, it } from "vitest";
import { readJob } from "../../src/job/job.ts";
import { isError, sentence } from "../../src/problem.ts";
import { parts, spots, text } from "./texts.ts";

describe("the lists beside the parts", () => {
  it("reads hardware, lengths and hand work with their defaults", () => {
    const { value, problems } = readJob("j", [
      parts(),
      text(
        "hardware.csv",
        "item,qty,per,part,hole diameter,note\nspike,1,,,,x\nbolt,2,Hole,Plate,5.5,",
      ),
      text("lengths.csv", "name,stock,length,qty,finish,note\npost,larch,90 cm,2,,"),
      text("hand-work.csv", "task,part,qty,minutes,note\npack,,,,\nmask,plate,2,1.50,tab"),
    ]);
    expect(problems).toEqual([]);
    expect(value?.hardware).toMatchObject([
      { item: "spike", quantity: 1, per: "piece", part: null, holeDiameterMm: null },
      { item: "bolt", quantity: 2, per: "hole", part: "plate", holeDiameterMm: 5.5 },
    ]);
    expect(value?.lengths).toMatchObject([
      { name: "post", stock: "larch", lengthMm: 900, quantity: 2, finish: null },
    ]);
    expect(value?.handWork[0]).toMatchObject({
      task: "pack",
      part: null,
      quantity: 1,
      minutes: null,
    });
    expect(value?.handWork[1]?.minutes?.toFixed(2)).toBe("1.50");
  });

  it.each([
    ["hardware.csv", "item,qty,per,part\nbolt,1,part,", "part-needed", "part", "Name the part"],
    ["hardware.csv", "item,qty,per,part\nbolt,1,hole,", "part-needed", "part", "holes"],
    ["hardware.csv", "item,qty,per,part\nbolt,1,piece,plate", "part-not-used", "part", "by piece"],
    ["hardware.csv", "item,qty,per,part\nbolt,1,part,plat", "unknown-part", "part", '"plate"'],
    [
      "hardware.csv",
      "item,qty,hole_diameter\nbolt,1,5",
      "hole-not-used",
      "hole diameter",
      "hole under per",
    ],
    ["hardware.csv", "item,qty,per\nbolt,1,peice", "not-a-choice", "per", '"piece"'],
    ["hardware.csv", "item,qty\nbolt,0", "not-a-number", "qty", "above 0"],
    ["hardware.csv", 'item,qty\nbolt,"1,5"', "not-a-number", "qty", "1.5"],
    ["lengths.csv", "name,stock,length,qty\npost,larch,0,1", "not-a-length", "length", "above 0"],
    [
      "lengths.csv",
      "name,stock,length,qty\npost,larch,9,1.5",
      "not-a-whole-number",
      "qty",
      "Round it",
    ],
    ["hand-work.csv", "task,part\nmask,plat", "unknown-part", "part", "of the parts list: plate"],
    ["hand-work.csv", "task,minutes\nmask,-3", "not-an-amount", "minutes", "minus sign"],
    ["hand-work.csv", "task,qty\nmask,Infinity", "not-a-number", "qty", "plain number"],
  ])("%s: %s", (name, body, code, column, says) => {
    const { value, problems } = readJob("j", [parts(), text(name, body)]);
    expect(value).toBeNull();
    expect(spots(problems.filter(isError))).toEqual([[code, 2, column]]);
    expect(sentence(problems[0]!)).toContain(says);
  });

  it("wants each length named once", () => {
    const list = text("lengths.csv", "name,stock,length,qty\npost,a,9,1\nPost,a,8,1");
    expect(spots(readJob("j", [parts(), list]).problems)).toEqual([["length-twice", 3, "name"]]);
  });

  it("says that a hand-work.csv without tasks does not switch the usual ones off", () => {
    const { value, problems } = readJob("j", [parts(), text("hand-work.csv", "task,qty\n")]);
    expect(value?.handWork).toEqual([]);
    expect(spots(problems)).toEqual([["no-hand-work", null, null]]);
  });

  it("does not call parts unknown that only could not be read", () => {
    const use = text("hand-work.csv", "task,part\nmask,broken");
    const { problems } = readJob("j", [parts("broken,0,mdf,3,,disc,,,9,,,,,,"), use]);
    expect(spots(problems)).toEqual([["not-a-whole-number", 3, "qty"]]);
    expect(spots(readJob("j", [use, text("job.yaml", "")]).problems)).toEqual([
      ["no-parts-list", null, null],
    ]);
  });
});
