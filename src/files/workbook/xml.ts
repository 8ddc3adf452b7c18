import { SaxesParser } from "saxes";

export type Attributes = Readonly<Record<string, string>>;

export interface XmlVisitor {
  /** Names of elements and attributes come without their prefix: writers choose different ones. */
  readonly open: (tag: string, attributes: Attributes) => void;
  readonly close?: (tag: string) => void;
  readonly text?: (text: string) => void;
}

/** Goes through XML in order; throws where it is malformed. No entity of its own is ever expanded. */
export function visitXml(xml: string, { open, close, text }: XmlVisitor): void {
  const parser = new SaxesParser();
  parser.on("opentag", ({ name, attributes }) => open(localName(name), localNames(attributes)));
  if (close) parser.on("closetag", ({ name }) => close(localName(name)));
  if (text) {
    parser.on("text", text);
    parser.on("cdata", text);
  }
  parser.write(xml).close();
}

function localName(name: string): string {
  return name.slice(name.indexOf(":") + 1);
}

function localNames(attributes: Attributes): Attributes {
  return Object.fromEntries(
    Object.entries(attributes).map(([name, value]) => [localName(name), value]),
  );
}
