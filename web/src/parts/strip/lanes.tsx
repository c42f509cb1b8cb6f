// The three lanes of one strip, drawn from the answer's own colours, a cell a minute.
//
// They are hundreds of plain cells, so they are painted. As elements each would be compared, styled
// and laid out again whenever a zone or a look brings another strip.
import { useLayoutEffect, useRef } from "preact/hooks";
import type { StripMinute } from "../../api/shapes";
import { cooler_and_warmer } from "../edges";
import { box, type Geometry, LANES, lane_spans, slivers } from "./geometry";
import "./lanes.css";

interface LanesProps {
  name: string;
  minutes: readonly StripMinute[];
  /** How many minutes old the axis is at its start. */
  first_row: number;
  layout: Geometry;
  strip: number;
}

/** Returns the cells of one strip, painted again only when they change or move. */
export function Lanes({ name, minutes, first_row, layout, strip }: LanesProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { sideways, minute_px, across } = layout;
  const scale = devicePixelRatio;
  useLayoutEffect(() => {
    if (canvas.current) paint(canvas.current, minutes, layout, scale);
  }, [minutes, sideways, minute_px, across, scale]);
  const { x, y, width, height } = box(
    layout,
    layout.time_start + first_row * minute_px,
    minute_px * minutes.length,
    layout.across_start[strip] ?? 0,
    across,
  );
  return (
    <canvas
      ref={canvas}
      class="strip-lanes"
      data-strip={name}
      style={{ left: `${x}px`, top: `${y}px`, width: `${width}px`, height: `${height}px` }}
    />
  );
}

/** Paints the cells from the canvas's own corner on, each to whole pixels of the screen. */
function paint(
  canvas: HTMLCanvasElement,
  minutes: readonly StripMinute[],
  layout: Geometry,
  scale: number,
): void {
  const whole = box(layout, 0, layout.minute_px * minutes.length, 0, layout.across);
  canvas.width = Math.round(whole.width * scale);
  canvas.height = Math.round(whole.height * scale);
  // Kept in plain memory: a picture on the graphics chip may be gone when the phone wakes.
  const ink = canvas.getContext("2d", { willReadFrequently: true });
  if (!ink) return;
  const spans = lane_spans(0, layout.across);
  minutes.forEach((at, row) => {
    LANES.forEach(([lane], place) => {
      const { hex, range } = at[lane];
      const [cooler, warmer] = cooler_and_warmer(range);
      slivers(spans[place] ?? { start: 0, px: 0 }).forEach(({ start, px }, sliver) => {
        const cell = box(layout, row * layout.minute_px, layout.minute_px, start, px);
        const [left, top] = [Math.round(cell.x * scale), Math.round(cell.y * scale)];
        ink.fillStyle = [cooler, hex, warmer][sliver] ?? hex;
        ink.fillRect(
          left,
          top,
          Math.round((cell.x + cell.width) * scale) - left,
          Math.round((cell.y + cell.height) * scale) - top,
        );
      });
    });
  });
}
