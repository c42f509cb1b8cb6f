// Compares answers: two Pythons differ in the last digits of a number, and in nothing else.
const TOLERANCE = 1e-9;

/** Returns whether two parsed answers are equal, numbers to 1e-9, lists in the same order. */
export function same_answer(given: unknown, known: unknown): boolean {
  if (typeof given === "number" && typeof known === "number") {
    return Math.abs(given - known) <= TOLERANCE * Math.max(1, Math.abs(known));
  }
  if (typeof given !== "object" || typeof known !== "object" || !given || !known) {
    return given === known;
  }
  const names = Object.keys(known);
  return (
    Array.isArray(given) === Array.isArray(known) &&
    Object.keys(given).length === names.length &&
    names.every(
      (name) =>
        Object.hasOwn(given, name) &&
        same_answer(Reflect.get(given, name), Reflect.get(known, name)),
    )
  );
}
