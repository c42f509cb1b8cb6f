// Tests of the courier against the real server, which tests/sync starts and names in SALONS.
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: { environment: "node", include: ["src/**/*.server.ts"], testTimeout: 0 },
});
