// Which of the page's files are fetched together, and how many at once.
import { afterEach, expect, test, vi } from "vitest";
import { fetch_together } from "./together";

afterEach(() => vi.unstubAllGlobals());

const named = Array.from({ length: 9 }, (_, number) => ({
  url: `assets/${number}.js`,
  revision: null,
}));

test("six at a time, each once, and only files that are named by their content", async () => {
  const open: { url: string; come: () => void }[] = [];
  const asked: string[] = [];
  vi.stubGlobal("fetch", (url: string) => {
    asked.push(url);
    return new Promise((resolve) => open.push({ url, come: () => resolve(new Response("")) }));
  });
  const all = fetch_together([{ url: "index.html", revision: "1" }, ...named]);
  expect(asked).toHaveLength(6);
  while (asked.length < named.length) {
    open.shift()?.come();
    const before = asked.length;
    await vi.waitFor(() => expect(asked).toHaveLength(before + 1));
    expect(open).toHaveLength(6);
  }
  for (const { come } of open) come();
  await all;
  expect(asked.toSorted()).toEqual(named.map(({ url }) => url));
});

test("a file that does not come is left to what keeps the page", async () => {
  vi.stubGlobal("fetch", () => Promise.reject(new TypeError("no network")));
  await expect(fetch_together(named)).resolves.toBeUndefined();
});
