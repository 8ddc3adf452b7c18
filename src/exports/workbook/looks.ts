import { escaped } from "./xml-text.ts";

/** How a cell looks. */
export interface Look {
  /** Format code as ECMA-376, part 1, 18.8.31 has it; `General` for as many digits as fit. */
  readonly format: string;
  readonly role: keyof typeof ROLES;
  /** A text that begins like a formula and is none. */
  readonly quoted?: boolean;
}

/** Numbers of fonts and fills below, and where the contents stand; numbers stand on the right by themselves. */
const ROLES = {
  plain: { font: 0, fill: 0, align: "" },
  text: { font: 0, fill: 0, align: 'horizontal="left" indent="1"' },
  heading: { font: 1, fill: 2, align: 'horizontal="left" indent="1"' },
  numberHeading: { font: 1, fill: 2, align: 'horizontal="right"' },
  sum: { font: 1, fill: 0, align: "" },
  sumText: { font: 1, fill: 0, align: 'horizontal="left" indent="1"' },
  /** What formulas start from, to be changed. */
  input: { font: 2, fill: 3, align: "" },
} as const;

const FONTS = ["", "<b/>", '<color rgb="FF1F3F8F"/>'].map((extra) => {
  const [bold, colour] = extra === "<b/>" ? [extra, ""] : ["", extra];
  return `<font>${bold}<sz val="10"/>${colour}<name val="Arial"/></font>`;
});
/** The first two are what the standard wants them to be. */
const FILLS = [
  '<patternFill patternType="none"/>',
  '<patternFill patternType="gray125"/>',
  ...["FFE4E4E4", "FFFFF6D6"].map(
    (rgb) => `<patternFill patternType="solid"><fgColor rgb="${rgb}"/></patternFill>`,
  ),
].map((pattern) => `<fill>${pattern}</fill>`);

/** Numbers of own formats begin here. */
const OWN = 164;

/** The looks that a workbook uses, numbered as they come. */
export class Looks {
  readonly #looks = new Map<string, { readonly index: number; readonly look: Look }>();

  constructor() {
    // The first is that of every cell that says nothing.
    this.indexOf({ format: "General", role: "plain" });
  }

  indexOf(look: Look): number {
    const key = JSON.stringify([look.format, look.role, look.quoted ?? false]);
    const known = this.#looks.get(key) ?? { index: this.#looks.size, look };
    this.#looks.set(key, known);
    return known.index;
  }

  /** The part `styles.xml`, without its first line. */
  xml(main: string): string {
    const looks = [...this.#looks.values()].map(({ look }) => look);
    const formats = [...new Set(looks.map(({ format }) => format))].filter(
      (format) => format !== "General",
    );
    const codes = formats.map(
      (format, index) => `<numFmt numFmtId="${OWN + index}" formatCode="${escaped(format)}"/>`,
    );
    const xfs = looks.map(({ format, role, quoted = false }) => {
      const id = format === "General" ? 0 : OWN + formats.indexOf(format);
      const { font, fill, align } = ROLES[role];
      return `<xf numFmtId="${id}" fontId="${font}" fillId="${fill}" borderId="0" xfId="0"${quoted ? ' quotePrefix="1"' : ""} applyNumberFormat="1" applyFont="1" applyFill="1" applyAlignment="1"><alignment ${align}/></xf>`;
    });
    return `<styleSheet xmlns="${main}">${[
      codes.length === 0 ? "" : list("numFmts", codes),
      list("fonts", FONTS),
      list("fills", FILLS),
      list("borders", ["<border/>"]),
      list("cellStyleXfs", ["<xf/>"]),
      list("cellXfs", xfs),
    ].join("")}</styleSheet>`;
  }
}

function list(name: string, items: readonly string[]): string {
  return `<${name} count="${items.length}">${items.join("")}</${name}>`;
}
