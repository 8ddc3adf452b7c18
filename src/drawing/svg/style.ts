import type { Element } from "./xml.ts";

/** Presentation properties: the `style` attribute goes before the attribute of the same name. */
export function property(element: Element, name: string): string | null {
  const value = declarations(element).get(name) ?? element.attributes.get(name)?.trim() ?? null;
  return value === "inherit" ? null : value;
}

export function classesOf(element: Element): string[] {
  return (element.attributes.get("class") ?? "").split(/\s+/).filter((name) => name !== "");
}

/** The declarations of the `style` attribute alone. */
export function declarations(element: Element): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const declaration of (element.attributes.get("style") ?? "").split(";")) {
    const colon = declaration.indexOf(":");
    if (colon < 0) continue;
    const value = declaration.slice(colon + 1).replace(/!\s*important\s*$/i, "");
    found.set(declaration.slice(0, colon).trim().toLowerCase(), value.trim());
  }
  return found;
}
