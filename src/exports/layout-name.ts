/** `01-acrylic-cast-3-600x400`: a sheet's layout file without its ending, and its name everywhere. */
export function layoutName(number: number, sheetId: string): string {
  const safe = sheetId.replace(/[^A-Za-z0-9._-]+/g, "-");
  return `${String(number).padStart(2, "0")}-${safe}`;
}
