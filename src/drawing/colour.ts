/** Stroke colours in one spelling, so that `red`, `#F00` and `rgb(255,0,0)` are the same. */

/** The basic keywords of CSS 2.1 section 4.3.6, the two spellings of grey, cyan and magenta. */
const BASIC_COLOURS: Readonly<Record<string, string>> = {
  aqua: "#00ffff",
  black: "#000000",
  blue: "#0000ff",
  cyan: "#00ffff",
  fuchsia: "#ff00ff",
  gray: "#808080",
  green: "#008000",
  grey: "#808080",
  lime: "#00ff00",
  magenta: "#ff00ff",
  maroon: "#800000",
  navy: "#000080",
  olive: "#808000",
  orange: "#ffa500",
  purple: "#800080",
  red: "#ff0000",
  silver: "#c0c0c0",
  teal: "#008080",
  white: "#ffffff",
  yellow: "#ffff00",
};

/** `#rrggbb` where the colour is one of those forms; any other text in lower case. */
export function plainColour(text: string): string {
  const colour = text.trim().toLowerCase();
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/.exec(colour);
  if (short)
    return `#${short
      .slice(1)
      .map((digit) => digit + digit)
      .join("")}`;
  const mixed = /^rgb\(\s*([\d.]+%?)\s*[,\s]\s*([\d.]+%?)\s*[,\s]\s*([\d.]+%?)\s*\)$/.exec(colour);
  if (mixed) return `#${mixed.slice(1).map(hexByte).join("")}`;
  return BASIC_COLOURS[colour] ?? colour;
}

function hexByte(channel: string): string {
  const value = Number.parseFloat(channel) * (channel.endsWith("%") ? 2.55 : 1);
  return Math.min(255, Math.round(value)).toString(16).padStart(2, "0");
}
