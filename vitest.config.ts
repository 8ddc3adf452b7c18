import { defineConfig } from "vitest/config";

// The time limit is also what holds work that would grow with the square of its input.
export default defineConfig({
  test: { include: ["tests/**/*.test.{ts,tsx}"], testTimeout: 20_000, pool: "threads" },
});
