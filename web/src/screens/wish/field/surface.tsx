// The surface that a finger slides on. Two sliders lie over it for keys and screen readers.
import { useMemo, useRef } from "preact/hooks";
import { level_words } from "../../../parts/words";
import { wish_hex } from "../../../references";
import { follow, ring, settle } from "./follow";
import { type Label, WHY_WORDS, why_not } from "./hatching";
import { across, hair_across, spot_at, stops_of, type Tones, tones_at } from "./places";
import { reach_at } from "./reaches";

const ABOVE_FINGER_PX = 56;

interface SurfaceProps {
  rows: readonly number[];
  tones: Tones;
  /** The hair now; undefined while nobody has read it. */
  hair: { hex: string | undefined; level: number | undefined } | undefined;
  labels: readonly Label[];
  /** Whether some of what lands is still being worked out. */
  busy: boolean;
  onStep: (by: { lighter?: number; warmer?: number }) => void;
}

/** Returns the colours that can be wished for, the hatching, the diamond and the ring. */
export function Surface({ rows, tones, hair, labels, busy, onStep }: SurfaceProps) {
  const area = useRef<HTMLDivElement>(null);
  const held = useRef<number | null>(null);

  // The same drawing again is compared with nothing: a finger passes many places a second.
  const hatched = hair !== undefined;
  const colours = useMemo(
    () => rows.map((level) => <Row key={level} level={level} tones={tones} hatched={hatched} />),
    [rows.join(), tones, hatched],
  );

  function to(event: PointerEvent): void {
    const box = area.current?.getBoundingClientRect();
    if (!box) return;
    // A finger hides what it lies on, a mouse does not.
    const up = event.pointerType === "mouse" ? 0 : ABOVE_FINGER_PX;
    const x = (event.clientX - box.left) / box.width;
    const y = (event.clientY - up - box.top) / box.height;
    const spot = spot_at(x, y, rows, tones);
    if (spot) follow(spot, tones);
  }

  function release(event: PointerEvent): void {
    if (event.pointerId !== held.current) return;
    held.current = null;
    settle();
  }

  return (
    <div class="field-frame">
      <div class="field-tones" aria-hidden="true">
        {tones.map((tone) => (
          <span key={tone}>{tone}</span>
        ))}
      </div>
      <div class="field-levels" aria-hidden="true">
        {rows.map((level) => (
          <span key={level} class={ring.value?.level === level ? "field-level-now" : undefined}>
            {level_words(level)}
          </span>
        ))}
      </div>
      <div
        ref={area}
        class="field-area"
        data-testid="wish-field"
        aria-busy={busy}
        onPointerDown={(event) => {
          if (held.current !== null || event.button !== 0) return;
          held.current = event.pointerId;
          event.currentTarget.setPointerCapture(event.pointerId);
          to(event);
        }}
        onPointerMove={(event) => {
          if (event.pointerId === held.current) to(event);
        }}
        onPointerUp={release}
        onPointerCancel={release}
      >
        {colours}
        {labels.map(({ why, row, from, count }) => (
          <span
            key={why}
            class="field-why"
            style={{
              top: `${(100 * row) / rows.length}%`,
              height: `${100 / rows.length}%`,
              left: `${(100 * from) / tones.length}%`,
              width: `${(100 * count) / tones.length}%`,
            }}
          >
            <span>{WHY_WORDS[why]}</span>
          </span>
        ))}
        {hair && <Diamond hair={hair} rows={rows} tones={tones} />}
        <Ring rows={rows} tones={tones} />
        <Sliders rows={rows} tones={tones} onStep={onStep} />
      </div>
    </div>
  );
}

/** One level: its tones run into each other, and those that do not land are hatched. */
function Row({ level, tones, hatched }: { level: number; tones: Tones; hatched: boolean }) {
  const colours = tones.map((tone, at) => {
    const percent = (100 * (at + 0.5)) / tones.length;
    return `${wish_hex(level, tone) ?? "transparent"} ${percent}%`;
  });
  return (
    <div class="field-row" style={{ backgroundImage: `linear-gradient(to right, ${colours})` }}>
      {tones.map((tone) => {
        const why = hatched ? why_not(reach_at, level, tone) : undefined;
        return (
          <span
            key={tone}
            class={why ? "field-cell field-hatched" : "field-cell"}
            data-cell={`${level} ${tone}`}
            data-why={why}
          />
        );
      })}
    </div>
  );
}

function down(level: number, rows: readonly number[]): number | undefined {
  const [top = 0, bottom = 0] = [rows[0], rows.at(-1)];
  if (level > top + 0.25 || level < bottom - 0.25) return undefined;
  return ((top - level) / 0.5 + 0.5) / rows.length;
}

function Diamond({
  hair: { hex, level },
  rows,
  tones,
}: {
  hair: { hex: string | undefined; level: number | undefined };
  rows: readonly number[];
  tones: Tones;
}) {
  if (!hex || level === undefined) return null;
  const [x, y] = [hair_across(hex, level, tones), down(level, rows)];
  if (x === undefined || y === undefined) return null;
  return (
    <span class="field-hair" style={{ left: `${100 * x}%`, top: `${100 * y}%` }}>
      <span class="field-diamond" />
      <span class="field-hair-words">hair now</span>
    </span>
  );
}

function Ring({ rows, tones }: { rows: readonly number[]; tones: Tones }) {
  const spot = ring.value;
  const y = spot ? down(spot.level, rows) : undefined;
  if (!spot || y === undefined) return null;
  return (
    <span
      class="field-ring"
      data-testid="wish-ring"
      style={{ left: `${100 * across(spot.stop, tones)}%`, top: `${100 * y}%` }}
    />
  );
}

const KEYS: Readonly<Record<string, { lighter?: number; warmer?: number }>> = {
  ArrowUp: { lighter: 1 },
  ArrowDown: { lighter: -1 },
  ArrowLeft: { warmer: -1 },
  ArrowRight: { warmer: 1 },
};

/** Two sliders, one for each way; arrow keys go all four ways on either. */
function Sliders({ rows, tones, onStep }: Pick<SurfaceProps, "rows" | "tones" | "onStep">) {
  const spot = ring.value;
  const on_key = (event: KeyboardEvent) => {
    const by = KEYS[event.key];
    if (!by) return;
    event.preventDefault();
    onStep(by);
  };
  const level = spot?.level ?? rows[0] ?? 0;
  const stop = spot?.stop ?? tones.length - 1;
  const words = spot ? tones_at(tones, spot.stop).join(" with ") : "no tone yet";
  return (
    <>
      <span
        class="field-slider"
        role="slider"
        tabIndex={0}
        aria-label="Level of the wish"
        aria-orientation="vertical"
        aria-valuemin={rows.at(-1)}
        aria-valuemax={rows[0]}
        aria-valuenow={level}
        aria-valuetext={spot ? `level ${level_words(level)}` : "no wish yet"}
        onKeyDown={on_key}
      />
      <span
        class="field-slider"
        role="slider"
        tabIndex={0}
        aria-label="Tone of the wish, cooler to warmer"
        aria-orientation="horizontal"
        aria-valuemin={0}
        aria-valuemax={stops_of(tones) - 1}
        aria-valuenow={stop}
        aria-valuetext={words}
        onKeyDown={on_key}
      />
    </>
  );
}
