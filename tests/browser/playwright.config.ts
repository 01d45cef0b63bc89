// Tests of the built page in a real browser: a phone's screen, touch.
import { defineConfig } from "@playwright/test";

// `cargo xtask test` builds dist/ first and names the browser.
const chromium = process.env.CHROMIUM ?? "/usr/bin/chromium";

export default defineConfig({
  testDir: ".",
  testMatch: "*.spec.ts",
  outputDir: "results",
  // One second chance on a machine that stalls; what needed it is listed as flaky, and is to be mended.
  retries: 1,
  // Such a machine is slow, not wrong.
  timeout: 60_000,
  expect: { timeout: 10_000 },
  workers: 2,
  forbidOnly: true,
  fullyParallel: true,
  reporter: [["list"]],
  use: {
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
    deviceScaleFactor: 2,
    trace: "retain-on-failure",
    launchOptions: {
      executablePath: chromium,
      // No sandbox: continuous integration runs as root. The others keep the browser from calling home.
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ],
    },
  },
});
