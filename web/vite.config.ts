import { execFileSync } from "node:child_process";
import type { Plugin } from "vite";
import { VitePWA } from "vite-plugin-pwa";
import { defineConfig } from "vitest/config";
import { KEPT_AT_ONCE, no_workbox_warnings } from "./scripts/precache";
import { files_together } from "./scripts/together";

const api = process.env.BASINSIDE_API ?? "http://127.0.0.1:8000";

export default defineConfig({
  // The page is served under a policy that allows no inline script or style and no `data:`
  // address, so nothing is inlined.
  build: {
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: "es2022",
    cssTarget: "es2022",
    rolldownOptions: { output: { codeSplitting: { groups: files_together() } } },
  },
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  server: { host: "127.0.0.1", proxy: { "/api": api, "/docs": api, "/openapi.json": api } },
  preview: { host: "127.0.0.1" },
  test: {
    environment: "node",
    include: ["src/**/*.test.ts"],
    // A busy machine is given time; no test says how long anything may take.
    testTimeout: 300_000,
    hookTimeout: 300_000,
  },
  plugins: [
    engine_pack(),
    no_workbox_warnings(),
    VitePWA({
      strategies: "injectManifest",
      srcDir: "src/offline",
      filename: "sw.ts",
      // The page registers the worker itself, since updates go through its gate.
      injectRegister: false,
      // A file of its own, in public/.
      manifest: false,
      injectManifest: KEPT_AT_ONCE,
    }),
  ],
});

/** Packs the engine once the page is written: the list of its files is kept with the page. */
function engine_pack(): Plugin {
  return {
    name: "engine-pack",
    apply: "build",
    closeBundle: {
      sequential: true,
      order: "pre",
      handler() {
        execFileSync("python", ["../scripts/engine_pack.py"], { stdio: "inherit" });
      },
    },
  };
}
