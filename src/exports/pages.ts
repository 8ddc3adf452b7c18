import { printable } from "../problem.ts";
import { wrapped } from "./wrap.ts";

/** Plain text for a printer: pages that no item is torn by, each with the title on top. */

/** Columns of a plain text print. */
export const PAGE_WIDTH = 80;
/** Lines of a page of either usual paper, at six to the inch, with a margin. */
const PAGE_LINES = 58;
/** What the title and the blank line under it leave. */
const ROOM = PAGE_LINES - 2;

export interface Block {
  readonly title: string;
  /** Lines that stay together, page after page. */
  readonly items: readonly (readonly string[])[];
}

/** Pages after the first begin with a form feed; blocks without items are left out. */
export function paged(title: string, blocks: readonly Block[]): string {
  const pages = blocks.reduce(withBlock, [[]]);
  return pages
    .map((lines, index) => [...pageHead(title, index + 1, pages.length), ...lines])
    .map((lines) => `${lines.map(printable).join("\n")}\n`)
    .join("\f");
}

type Pages = readonly (readonly string[])[];

function withBlock(pages: Pages, { title, items }: Block): Pages {
  return items.flatMap(fitting).reduce((done, item, index) => {
    const last = done.at(-1) ?? [];
    const lead = index > 0 ? [] : last.length === 0 ? heading(title) : ["", ...heading(title)];
    if (last.length + lead.length + item.length <= ROOM)
      return [...done.slice(0, -1), [...last, ...lead, ...item]];
    return [...done, [...heading(index === 0 ? title : `${title} (continued)`), ...item]];
  }, pages);
}

function heading(title: string): readonly string[] {
  return [title.toUpperCase(), "-".repeat(Math.min(title.length, PAGE_WIDTH))];
}

/** An item longer than a page is torn after all. */
function fitting(item: readonly string[]): readonly (readonly string[])[] {
  const most = ROOM - heading("").length;
  const count = Math.ceil(item.length / most);
  return Array.from({ length: count }, (_, index) => item.slice(index * most, (index + 1) * most));
}

function pageHead(title: string, page: number, of: number): readonly string[] {
  const right = `page ${page} of ${of}`;
  const [short = ""] = wrapped(title, PAGE_WIDTH - right.length - 2);
  return [`${short.padEnd(PAGE_WIDTH - right.length)}${right}`, ""];
}
