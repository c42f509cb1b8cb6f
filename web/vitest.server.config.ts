// Tests of the page's own code against the real server, which tests/sync and tests/records start:
// *.server.ts, or where DESK says where one desk is, *.desk.ts.
import { defineConfig } from "vitest/config";

const which = process.env.DESK ? "desk" : "server";

export default defineConfig({
  test: { environment: "node", include: [`tests/**/*.${which}.ts`], testTimeout: 0 },
});
