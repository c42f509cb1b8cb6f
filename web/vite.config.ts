import { execFileSync } from "node:child_process";
import type { Plugin } from "vite";
import { VitePWA } from "vite-plugin-pwa";
import { defineConfig } from "vitest/config";
import { getManifest } from "workbox-build";

const api = process.env.BASINSIDE_API ?? "http://127.0.0.1:8000";

// The page in full, and the engine's list of files; the engine itself is kept by its own loader.
const KEPT_AT_ONCE = {
  globDirectory: "dist",
  globPatterns: [
    "index.html",
    "engine.json",
    "manifest.webmanifest",
    "*.{svg,png}",
    "assets/*.{js,css,woff2}",
  ],
  dontCacheBustURLsMatching: /^assets\//,
  // No file of the page comes near this; one that does would make the first visit heavy, and
  // Workbox would leave it out with no more than a warning.
  maximumFileSizeToCacheInBytes: 400_000,
};

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
  plugins: [
    engine_pack(),
    no_warnings(),
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

/** Fails the build where Workbox would warn and go on: a page kept in part does not open. */
function no_warnings(): Plugin {
  return {
    name: "no-workbox-warnings",
    apply: "build",
    closeBundle: {
      sequential: true,
      order: "pre",
      async handler() {
        const { warnings } = await getManifest(KEPT_AT_ONCE);
        if (warnings.length > 0) throw new Error(`Workbox warns:\n${warnings.join("\n")}`);
      },
    },
  };
}
