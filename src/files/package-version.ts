import { readFile } from "node:fs/promises";

/** The version in package.json, which lies beside both src and dist. */
export async function packageVersion(): Promise<string> {
  const text = await readFile(new URL("../../package.json", import.meta.url), "utf8");
  return /"version":\s*"([^"]+)"/.exec(text)?.[1] ?? "unknown";
}
