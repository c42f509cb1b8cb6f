// What each field of a record may hold, by the contract's types: what is not of its type does not
// show. `service/records/typed.py` asks the same; scripts/record_checks.py writes the types.
import table from "./checks.generated.json";

type Type = string | readonly [string, ...unknown[]];
type Shape = readonly [fields: Record<string, Type>, needed: readonly string[], closed: boolean];

const KINDS = table.kinds as unknown as Record<string, Record<string, Type>>;
const SHAPES = table.shapes as unknown as Record<string, Shape>;
const PATTERNS = table.patterns.map((pattern) => new RegExp(pattern));

/** Returns a field's own name: "answers" of "answers.pregnant". */
function base_of(field: string): string {
  const dot = field.indexOf(".");
  return dot < 0 ? field : field.slice(0, dot);
}

/** Returns whether this app knows a field of a kind; a kind of a newer app may have any. */
export function is_known(kind: string, field: string): boolean {
  const fields = own(KINDS, kind);
  return !fields || own(fields, base_of(field)) !== undefined;
}

/**
 * Returns the place in a kept value that is not of the field's type, as a JSON Pointer (RFC 6901):
 * "" for the value itself, null where all is right. An empty value takes away what was there.
 */
export function misfit(kind: string, field: string, v: unknown): string | null {
  const type = own(own(KINDS, kind) ?? {}, base_of(field));
  if (!type || v === null) return null;
  if (!field.includes(".")) return at(type, v);
  // Only an object whose keys are written apart has parts.
  return type[0] === "d" ? at(type[2] as Type, v) : "";
}

function own<V>(of: Record<string, V>, name: string): V | undefined {
  return Object.hasOwn(of, name) ? of[name] : undefined;
}

function at(type: Type, v: unknown): string | null {
  const [name, ...of] = typeof type === "string" ? [type] : type;
  switch (name) {
    case "a":
      return null;
    case "z":
      return v === null ? null : "";
    case "b":
      return typeof v === "boolean" ? null : "";
    case "id":
      return typeof v === "string" ? null : "";
    case "e":
      return of.includes(v) ? null : "";
    case "n":
    case "i":
      return is_number(name, v, of as Bounds) ? null : "";
    case "s":
      return is_text(v, of as [number, number | null, number?]) ? null : "";
    case "u":
      return of_one((of as Type[]).map((one) => at(one, v)));
    case "l":
      return in_list(v, of as [Type, number, number | null]);
    case "t":
      return in_tuple(v, of as Type[]);
    case "d":
      return in_keys(v, of as [Type, Type]);
    default:
      return in_shape(v, SHAPES[of[0] as string] as Shape);
  }
}

type Bounds = [low: number | null, high: number | null, low_out?: boolean, high_out?: boolean];

function is_number(name: string, v: unknown, [low, high, low_out, high_out]: Bounds): boolean {
  if (typeof v !== "number" || !Number.isFinite(v)) return false;
  if (name === "i" && !Number.isInteger(v)) return false;
  if (low !== null && (low_out ? v <= low : v < low)) return false;
  return high === null || (high_out ? v < high : v <= high);
}

function is_text(v: unknown, [least, most, pattern]: [number, number | null, number?]): boolean {
  if (typeof v !== "string" || v.length < least) return false;
  // A letter may be two units of the page's text.
  if (most !== null && v.length > most && [...v].length > most) return false;
  return pattern === undefined || (PATTERNS[pattern]?.test(v) ?? false);
}

/** Of several types one must fit; else the deepest place says most. */
function of_one(places: readonly (string | null)[]): string | null {
  if (places.includes(null)) return null;
  return places.reduce<string>((deep, one) => (one && one.length > deep.length ? one : deep), "");
}

function in_list(v: unknown, [item, least, most]: [Type, number, number | null]): string | null {
  if (!Array.isArray(v) || v.length < least || (most !== null && v.length > most)) return "";
  return first(v.map((one, place) => [String(place), item, one]));
}

function in_tuple(v: unknown, items: readonly Type[]): string | null {
  if (!Array.isArray(v) || v.length !== items.length) return "";
  return first(items.map((item, place) => [String(place), item, v[place]]));
}

function in_keys(v: unknown, [key, value]: [Type, Type]): string | null {
  if (!is_object(v)) return "";
  const names = Object.keys(v);
  if (names.some((name) => at(key, name) !== null)) return "";
  return first(names.map((name) => [name, value, v[name]]));
}

function in_shape(v: unknown, [fields, needed, closed]: Shape): string | null {
  if (!is_object(v) || needed.some((name) => !Object.hasOwn(v, name))) return "";
  const names = Object.keys(v);
  if (closed && names.some((name) => !Object.hasOwn(fields, name))) return "";
  return first(
    names.flatMap((name) => {
      const type = own(fields, name);
      return type ? [[name, type, v[name]]] : [];
    }),
  );
}

/** Returns the place of the first that does not fit. */
function first(parts: readonly (readonly [string, Type, unknown])[]): string | null {
  for (const [name, type, v] of parts) {
    const place = at(type, v);
    if (place !== null) return `/${name.replaceAll("~", "~0").replaceAll("/", "~1")}${place}`;
  }
  return null;
}

function is_object(v: unknown): v is Record<string, unknown> {
  return typeof v === "object" && v !== null && !Array.isArray(v);
}
