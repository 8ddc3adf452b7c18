import type { SheetsReport } from "../estimate-data.ts";
import { nestJson } from "./nest-json.ts";
import type { NestJson } from "./nest-json.ts";

/** The answer of `sheets --json`: of `nest --json` what does not lie on a sheet, and the comparison. */
export type SheetsJson = Pick<NestJson, "version" | "choices" | "figures"> &
  Pick<SheetsReport, "machine" | "compared">;

export function sheetsJson(report: SheetsReport): SheetsJson {
  const { version, choices, figures } = nestJson(report);
  const { machine, compared } = report;
  return { version, choices, figures, machine, compared };
}
