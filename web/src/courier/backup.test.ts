import { afterEach, expect, test, vi } from "vitest";
import { last_backup } from "./backup";

const NOW_MS = Date.parse("2026-11-30T12:00:00Z");

afterEach(() => vi.unstubAllGlobals());

function server_says(health: object | undefined) {
  vi.stubGlobal("fetch", async () => {
    if (!health) throw new TypeError("no network");
    return Response.json({ status: "ok", ...health });
  });
}

test.each([
  ["2026-11-30T03:10:00Z", false],
  ["2026-11-27T12:00:01Z", false],
  ["2026-11-27T12:00:00Z", true],
])("a backup of %s is old: %s", async (at, old) => {
  server_says({ backup_proven_at: at });
  expect(await last_backup(NOW_MS)).toEqual({ at, old, failed: "" });
});

test("why the last try failed is passed on", async () => {
  server_says({ backup_proven_at: null, backup_failed: "The disk is full." });
  expect(await last_backup(NOW_MS)).toMatchObject({ failed: "The disk is full." });
});

test("a salon that has none yet is told so, and not that it is old", async () => {
  server_says({ backup_proven_at: null });
  expect(await last_backup(NOW_MS)).toEqual({ at: null, old: false, failed: "" });
});

test.each([[undefined], [{}]])("nothing is said of a server that says %s", async (health) => {
  server_says(health);
  expect(await last_backup(NOW_MS)).toBeUndefined();
});
