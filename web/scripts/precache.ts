// What the service worker keeps as soon as the page is opened for the first time.
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import type { Plugin } from "vite";
import { getManifest, type ManifestTransform } from "workbox-build";

/** Names the engine's list by its SHA-256, by which the service worker knows a damaged one. */
const by_sha256: ManifestTransform = async (entries) => ({
  manifest: entries.map((entry) =>
    entry.url === "engine.json"
      ? {
          ...entry,
          revision: createHash("sha256").update(readFileSync("dist/engine.json")).digest("hex"),
        }
      : entry,
  ),
});

/** The page in full, and the engine's list of files; the engine is kept by its own loader. */
export const KEPT_AT_ONCE = {
  globDirectory: "dist",
  globPatterns: [
    "index.html",
    "engine.json",
    "manifest.webmanifest",
    "*.{svg,png}",
    "assets/*.{js,css,woff2}",
  ],
  dontCacheBustURLsMatching: /^assets\//,
  manifestTransforms: [by_sha256],
  // No file of the page comes near this; one that does would make the first visit heavy, and
  // Workbox would leave it out with no more than a warning.
  maximumFileSizeToCacheInBytes: 400_000,
};

/** Fails the build where Workbox would warn and go on: a page kept in part does not open. */
export function no_workbox_warnings(kept = KEPT_AT_ONCE): Plugin {
  return {
    name: "no-workbox-warnings",
    apply: "build",
    closeBundle: { sequential: true, order: "pre", handler: () => refuse_warnings(kept) },
  };
}

/** Throws all that Workbox warns of. */
export async function refuse_warnings(kept: typeof KEPT_AT_ONCE): Promise<void> {
  const { warnings } = await getManifest(kept);
  if (warnings.length > 0) throw new Error(`Workbox warns:\n${warnings.join("\n")}`);
}
