import { Box, Text } from "ink";
import type { ReactNode } from "react";
import type { Line } from "./line.ts";
import { withPlainSigns } from "./plain-signs.ts";
import type { Theme } from "./theme.ts";

/** Puts lines on the screen; they are measured already, cutting is only a last resort. */
export function Screen({
  lines,
  theme,
  unicode,
}: {
  readonly lines: readonly Line[];
  readonly theme: Theme;
  /** Whether the terminal shows more than ASCII. */
  readonly unicode: boolean;
}): ReactNode {
  return (
    <Box flexDirection="column">
      {lines.map((line, row) => (
        // oxlint-disable-next-line react/no-array-index-key -- a row of the terminal is its index
        <Text key={row} wrap="truncate">
          {line.map(({ text, tone }, index) => (
            // oxlint-disable-next-line react/no-array-index-key -- spans have no other identity
            <Text key={index} {...(tone === undefined ? {} : theme[tone])}>
              {unicode ? text : withPlainSigns(text)}
            </Text>
          ))}
        </Text>
      ))}
    </Box>
  );
}
