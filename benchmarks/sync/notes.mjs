// The same notes for both sides, as operations: ids in order of time, nine words each.
const SYLLABLES = ["ba", "ko", "li", "mer", "no", "sa", "ti", "vel", "ur", "wen"];

export function notes(count, device_id, first_ms = Date.now()) {
  let state = 7;
  const next = () => (state = (state * 1103515245 + 12345) % 2147483648);
  const word = () => SYLLABLES[next() % 10] + SYLLABLES[next() % 10] + SYLLABLES[next() % 10];
  return Array.from({ length: count }, (_, at) => {
    const n = (at + 1).toString(16).padStart(12, "0");
    const stamp = new Date(first_ms + at).toISOString();
    return {
      op_id: `0199c0de-0000-7000-8000-${n}`,
      device_seq: at + 1,
      hlc: `${stamp}-0000-${device_id}`,
      schema: 2,
      kind: "note.create",
      entity_id: `0199c0de-0000-7000-9000-${n}`,
      by: device_id,
      fields: { text: Array.from({ length: 9 }, word).join(" ") },
    };
  });
}

/** Returns what a piece of work took, in ms. */
export async function timed(work) {
  const began = performance.now();
  await work();
  return performance.now() - began;
}
