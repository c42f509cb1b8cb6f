// The three lanes of one strip, drawn from the answer's own colours, a cell a minute.
import type { StripMinute } from "../../api/shapes";
import { cooler_and_warmer } from "../edges";
import { box, type Geometry, LANES, lane_spans, slivers } from "./geometry";

interface LanesProps {
  name: string;
  minutes: readonly StripMinute[];
  layout: Geometry;
  strip: number;
}

/** Returns the cells; each carries its minute, lane and sliver, so that it can be read back. */
export function Lanes({ name, minutes, layout, strip }: LanesProps) {
  const spans = lane_spans(layout.across_start[strip] ?? 0, layout.across);
  return (
    <g shape-rendering="crispEdges" data-strip={name}>
      {minutes.map((at, row) =>
        LANES.map(([lane], place) => {
          const { hex, range } = at[lane];
          const [cooler, warmer] = cooler_and_warmer(range);
          const span = spans[place] ?? { start: 0, px: 0 };
          const colours = [cooler, hex, warmer];
          return slivers(span).map(({ start, px }, sliver) => (
            <rect
              key={`${at.minute}-${lane}-${sliver}`}
              {...box(
                layout,
                layout.time_start + row * layout.minute_px,
                layout.minute_px,
                start,
                px,
              )}
              fill={colours[sliver]}
              data-minute={at.minute}
              data-lane={lane}
              data-part={["cooler", "colour", "warmer"][sliver]}
            />
          ));
        }),
      )}
    </g>
  );
}
