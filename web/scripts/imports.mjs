// Imports point one way. dependency-cruiser reads nothing under some compilers and then reports
// success, so reading too few modules is a failure too.
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { cruise } from "dependency-cruiser";
import extractTSConfig from "dependency-cruiser/config-utl/extract-ts-config";

const web = fileURLToPath(new URL("..", import.meta.url));
const TSCONFIG = `${web}tsconfig.json`;
// A folder that holds another `src` can be named: tests/house plants faults in one.
process.chdir(process.argv[2] ?? web);

/**
 * Each room under src, and what it may import beside itself and packages. A folder or file that is
 * not listed here fails, so that no room is ever without a rule.
 */
const ROOMS = {
  pages: [
    ...[
      "screens",
      "parts",
      "gate",
      "prediction",
      "salon",
      "bench",
      "swatches",
      "shelf",
      "records",
      "device",
      "engine",
    ],
    ...[
      "references",
      "offline",
      "courier",
      "api/shapes",
      "place",
      "wide",
      "alarm",
      "demo",
      "outbox/world",
    ],
  ],
  screens: [
    ...["parts", "gate", "prediction", "salon", "bench", "swatches", "shelf", "records"],
    ...[
      "device",
      "engine",
      "references",
      "offline",
      "courier",
      "api/shapes",
      "place",
      "colour",
      "photo_reading",
      "demo",
      "outbox/world",
    ],
  ],
  demo: ["salon", "records", "outbox", "device"],
  gate: ["salon", "records", "outbox/world", "device", "engine", "api/shapes"],
  prediction: ["salon", "shelf", "records", "device", "engine", "api"],
  act_here: ["records", "place"],
  alarm: ["salon", "records", "device", "place", "wide"],
  salon: ["colour", "bench", "shelf", "records", "device", "engine", "api/shapes"],
  bench: ["shelf", "records", "device", "engine", "references", "api/shapes", "outbox/drafts"],
  swatches: ["shelf", "records", "device", "engine", "api/shapes"],
  shelf: ["records", "device", "api"],
  courier: ["records", "outbox", "device", "api"],
  records: ["outbox", "api/shapes"],
  outbox: [],
  parts: ["references", "api/shapes", "device/when"],
  engine: ["api", "device/when", "offline/other_version", "outbox/sha256"],
  device: ["outbox", "offline/from_worker"],
  offline: ["outbox/sha256"],
  api: [],
  photo_reading: ["colour"],
  references: [],
  colour: [],
  place: [],
  wide: [],
};
/** What puts the rooms together: it may import all of them, and none of them imports it. */
const TOP = ["main", "shell"];

/** Modules of the room `from` may import only what is under `to`, the room itself, and packages. */
function only(from, to) {
  const own = [from, ...to].join("|");
  return {
    name: `${from}-imports-only-${to.join("-or-") || "itself"}`,
    severity: "error",
    from: { path: `^src/${from}[./]` },
    to: { path: "^src/", pathNot: `^src/(${own})[./]|\\.css$` },
  };
}

const forbidden = [
  ...Object.entries(ROOMS).map(([from, to]) => only(from, to)),
  {
    name: "a-screen-never-imports-a-screen",
    severity: "error",
    from: { path: "^src/screens/([^/]+)/" },
    to: { path: "^src/screens/", pathNot: "^src/screens/$1/" },
  },
  {
    name: "only-tests-import-what-helps-tests",
    severity: "error",
    from: { path: "^src/", pathNot: "\\.test\\.ts$" },
    to: { path: "^tests/" },
  },
  { name: "no-circles", severity: "error", from: {}, to: { circular: true } },
  { name: "nothing-unresolved", severity: "error", from: {}, to: { couldNotResolve: true } },
];

const listed = new Set([...Object.keys(ROOMS), ...TOP]);
const unlisted = readdirSync("src")
  .filter((name) => !name.endsWith(".css"))
  .filter((name) => !listed.has(name.replace(/(\.test)?\.tsx?$/, "")));
if (unlisted.length > 0) {
  throw new Error(`No import rule for src/${unlisted.join(", src/")}: add it to ROOMS.`);
}

const { output } = await cruise(
  ["src"],
  {
    validate: true,
    ruleSet: { forbidden },
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    tsConfig: { fileName: TSCONFIG },
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "types"] },
  },
  undefined,
  { tsConfig: extractTSConfig(TSCONFIG) },
);

const written = readdirSync("src", { recursive: true }).filter((name) => /\.tsx?$/.test(name));
const seen = new Set(output.modules.map(({ source }) => source.replace(/^src\//, "")));
const unread = written.filter((name) => !seen.has(name));
if (written.length === 0 || unread.length > 0) {
  throw new Error(`The import check read ${seen.size} modules and missed ${unread.join(", ")}.`);
}
if (output.summary.violations.length > 0) {
  const lines = output.summary.violations.map(
    ({ rule, from, to }) => `  ${from} imports ${to}: ${rule.name}`,
  );
  throw new Error(`Imports that point the wrong way:\n${lines.join("\n")}`);
}
process.stdout.write(`Imports: ${written.length} modules read, all point one way.\n`);
