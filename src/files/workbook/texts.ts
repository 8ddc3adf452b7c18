import { visitXml } from "./xml.ts";

/** The texts that cells refer to by number (ECMA-376, part 1, 18.4.9), without their looks. */
export function readTexts(xml: string | null): readonly string[] {
  const texts: string[] = [];
  const piece = new TextPiece();
  visitXml(xml ?? "<none/>", {
    open: (tag) => piece.open(tag),
    text: (text) => piece.write(text),
    close: (tag) => {
      piece.close(tag);
      if (tag === "si") texts.push(piece.take());
    },
  });
  return texts;
}

/** Gathers a text from its runs; readings that stand beside the signs (`rPh`) are no part of it. */
export class TextPiece {
  #text = "";
  #inText = false;
  #inReading = false;

  open(tag: string): void {
    if (tag === "rPh") this.#inReading = true;
    if (tag === "t") this.#inText = !this.#inReading;
  }

  write(text: string): void {
    if (this.#inText) this.#text += text;
  }

  close(tag: string): void {
    if (tag === "rPh") this.#inReading = false;
    if (tag === "t") this.#inText = false;
  }

  take(): string {
    const text = unescaped(this.#text);
    this.#text = "";
    return text;
  }
}

/** `_x000D_` is a character that XML can not hold (ECMA-376, part 1, 22.9.2.19). */
export function unescaped(text: string): string {
  return text.replace(/_x([0-9a-f]{4})_/gi, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
}
