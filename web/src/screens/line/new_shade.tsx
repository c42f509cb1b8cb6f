// A shade is its code. The line's legend makes level and tone from it, and both can be corrected.
import { useRef, useState } from "preact/hooks";
import { useTyped } from "../../device/typed";
import { Choice } from "../../parts/choice";
import { Patch } from "../../parts/patch";
import { Stepper } from "../../parts/stepper";
import { TextField } from "../../parts/text";
import { level_words } from "../../parts/words";
import { told_of } from "../../prediction/own_names";
import type { Entity } from "../../records/shapes";
import { change, create } from "../../records/write";
import {
  is_clear,
  level_fault,
  PRODUCT_TONES,
  read_code,
  shade_words,
} from "../../shelf/shade_codes";
import { as_product, shades_of } from "../../shelf/shelf";

const TONES = PRODUCT_TONES.map((tone) => [tone, tone] as const);

/** Returns the field for the next shade, its meaning, and its colour. */
export function NewShade({ line }: { line: Entity<"line"> }) {
  const [code, type] = useTyped("shade", line.id, "");
  const [moved, move] = useState(0);
  const [said, say] = useState("");
  const field = useRef<HTMLDivElement>(null);
  const legend = line.legend ?? {};
  const read = read_code(code, legend);
  const level = read.level === undefined && moved === 0 ? undefined : (read.level ?? 9) + moved;
  const known = shades_of(line.id).some((shade) => shade.code === code.trim());
  const fault = !code.trim()
    ? ""
    : known
      ? "This shade is on the shelf already."
      : level_fault(level);
  const whole = code.trim() && !fault && !read.unknown && read.tone.length > 0;
  const shade = {
    id: "new",
    kind: "product",
    level,
    tone: read.tone,
    code,
  } as unknown as Entity<"product">;
  const product = whole ? as_product(line, shade) : undefined;
  const told = product && told_of(product);

  const means = (word: string) => {
    const piece = read.unknown || code.trim().replace(/^\d+/, "").trim();
    const legend_now = { ...legend, [piece]: [word] };
    void change("line", line.id, { legend: legend_now }, `${line.name} ${piece} means ${word}.`);
  };
  const add = async () => {
    const added = code.trim();
    await create("product", {
      line: line.id,
      code: added,
      level: level as number,
      tone: read.tone,
      in_stock: true,
    });
    say(`Added ${added}: ${shade_words(level_words(level as number), read.tone)}.`);
    type("");
    move(0);
    field.current?.querySelector("input")?.focus();
  };
  return (
    <form
      class="stack new-shade"
      onSubmit={(event) => {
        event.preventDefault();
        if (whole) void add();
      }}
    >
      <h3>Another shade</h3>
      <div ref={field}>
        <TextField
          label="Its code, as on the tube"
          value={code}
          onType={(typed) => {
            type(typed);
            move(0);
            say("");
          }}
          fault={fault}
          mostLength={20}
        />
      </div>
      {code.trim() && !known && read.unknown && (
        <Choice
          legend={`In this line “${read.unknown}” means`}
          options={TONES}
          value={undefined}
          onChoose={means}
          note="Say it once. The legend keeps it for the line."
        />
      )}
      {code.trim() && !known && !read.unknown && read.tone.length === 0 && (
        <Choice
          legend="The code has no tone. It is"
          options={TONES}
          value={undefined}
          onChoose={(word) => {
            if (read.level !== undefined && code.trim() === String(read.level))
              type(`${code.trim()} ${word}`);
            void change(
              "line",
              line.id,
              { legend: { ...legend, [word]: [word] } },
              `${line.name} ${word} means ${word}.`,
            );
          }}
        />
      )}
      {code.trim() && !known && (
        <>
          {!is_clear(read.tone) && (
            <Stepper
              label="Level on the label"
              words={level === undefined ? "missing" : level_words(level)}
              less="half a level deeper"
              more="half a level lighter"
              onLess={(level ?? 9) > 1 ? () => move(moved - 0.5) : undefined}
              onMore={(level ?? 9) < 11 ? () => move(moved + 0.5) : undefined}
            />
          )}
          <div class="surround">
            <Patch
              label={read.tone.length > 0 ? read.tone.join(" ") : "tone missing"}
              hex={told?.makes.hex}
              words={told ? `alone on ${told.hair}` : "alone on hair it is made for"}
              missing={product ? "being worked out" : "give level and tone first"}
            />
          </div>
        </>
      )}
      <p role="status">{said}</p>
      <button type="submit" class="add-shade" disabled={!whole}>
        Add this shade
      </button>
    </form>
  );
}
