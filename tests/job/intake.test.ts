import { describe, expect, it } from "vitest";
import { readIntake } from "../../src/job/intake.ts";
import { spots, parts, tables, text } from "./texts.ts";

describe("names in rows with a fault", () => {
  it("are checked as those of the others, what could not be read is not", () => {
    const job = [
      parts(
        "a,0,slate,4,,disc,,,9,,,,,gold,",
        "b,1,card,x,,disc,,,9,,,,,,",
        "c,x,card,7,,disc,,,9,,,,,,",
      ),
      text("hardware.csv", "item,qty,per,part\nm6-bolt,x,hole,lid\n,1,piece,"),
      text("lengths.csv", "name,stock,length,qty,finish\npost,oak,x,1,gold\npost,larch,9,1,"),
      text("hand-work.csv", "task,minutes,part\nsweep,-1,lid"),
    ];
    const { value, problems } = readIntake({ jobName: "j", job, tables: tables() }, "quote");
    expect(value).toBeNull();
    expect(problems.map(({ file, line, column }) => `${file} ${line} ${column}`)).toEqual([
      "parts.csv 3 qty",
      "parts.csv 4 thickness",
      "parts.csv 5 qty",
      "hardware.csv 2 qty",
      "hardware.csv 3 item",
      "hardware.csv 2 part",
      "lengths.csv 2 length",
      "lengths.csv 3 name",
      "hand-work.csv 2 minutes",
      "hand-work.csv 2 part",
      "parts.csv 3 material",
      "parts.csv 5 thickness",
      "parts.csv 3 finish",
      "lengths.csv 2 finish",
      "hardware.csv 2 item",
      "lengths.csv 2 stock",
      "hand-work.csv 2 task",
    ]);
  });

  it("are checked against the tables that could be read, whatever is wrong in others", () => {
    const job = [
      parts("a,1,slate,4,,disc,,,9,,,,,gold,"),
      text("hardware.csv", "item,qty\nm6-bolt,1"),
      text("tables/hardware.csv", "Bolts of the shed"),
      text("tables/finishes.csv", 'id,step,paint,faces,edges,coats,valid_from,source\n"open,x'),
    ];
    const { problems } = readIntake({ jobName: "j", job, tables: tables() }, "quote");
    const errors = problems.filter(({ file }) => file === "parts.csv" || file === "hardware.csv");
    expect(spots(errors)).toEqual([["unknown-material", 3, "material"]]);
  });
});
