import { defineConfig } from "vitest/config";

// The time limit is also what holds work that would grow with the square of its input.
export default defineConfig({
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    testTimeout: 30_000,
    hookTimeout: 60_000,
    pool: "threads",
    // Else one core stands idle: the default leaves it to the screen of a person who waits.
    maxWorkers: "100%",
  },
});
