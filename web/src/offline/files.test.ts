import { expect, test } from "vitest";
import { FILES, files_together } from "../../scripts/together";

const modules = Object.keys(import.meta.glob("../**/*.{ts,tsx,json}", { eager: false })).map(
  (path) => path.replace("../", "").replace(/^\.\//, "offline/"),
);

test.each(FILES)("every path of the file %s leads to a module", (_name, ...paths) => {
  const lost = paths.filter((path) => !modules.some((name) => new RegExp(`^(${path})`).test(name)));
  expect(lost).toEqual([]);
});

test("the shell goes before every other file, and no name stands twice", () => {
  const [shell, ...later] = files_together();
  expect(shell?.name).toBe("shell");
  expect(later.every(({ priority }) => priority < (shell?.priority ?? 0))).toBe(true);
  const names = [shell, ...later].map((file) => file?.name);
  expect(new Set(names).size).toBe(names.length);
});
