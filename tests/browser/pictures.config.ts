// Pictures of every screen, to be looked at, and the README's own. `cargo xtask pictures` takes them.
import { defineConfig } from "@playwright/test";
import tests from "./playwright.config.ts";

export default defineConfig({
  ...tests,
  retries: 0,
  testDir: "pictures",
  testMatch: "*.pictures.ts",
  fullyParallel: true,
  timeout: 600_000,
  expect: { timeout: 60_000 },
});
