// Tests of the courier against the real server, which tests/sync starts; RUN says which.
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    environment: "node",
    include: [`src/**/${process.env.RUN ?? "histories"}.server.ts`],
    testTimeout: 0,
  },
});
