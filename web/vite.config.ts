import { defineConfig } from "vitest/config";

const api = process.env.BASINSIDE_API ?? "http://127.0.0.1:8000";

export default defineConfig({
  // The page is served under a policy that allows no inline script or style and no `data:`
  // address, so nothing is inlined.
  build: {
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: "es2022",
    cssTarget: "es2022",
  },
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  server: { host: "127.0.0.1", proxy: { "/api": api, "/docs": api, "/openapi.json": api } },
  preview: { host: "127.0.0.1" },
  test: { environment: "node", include: ["src/**/*.test.ts"] },
});
