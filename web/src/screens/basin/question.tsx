// A look that hardly any such head could show: its question stands in the place of the order until
// somebody has answered it. The clock runs on.
import type { ComponentChildren } from "preact";
import { useMemo } from "preact/hooks";
import type { Colour } from "../../api/shapes";
import { hex_of_lab, type Lab } from "../../colour";
import { type Doubt, held, held_of, minute_in } from "../../prediction/held";
import { question_of_doubt } from "../../prediction/live";
import { look_words } from "../../salon/service/looks";
import { type Order, order_at } from "../../salon/service/order";
import { minutes_of, type Running } from "../../salon/service/running";
import { product_words } from "../../shelf/shelf";
import { Causes, ruled_out } from "./causes";
import { Shade, short_words } from "./patches";
import { ANY_TUBE, tube_asked } from "./state";
import { hour_and_minute } from "./time";
import { Tubes } from "./tubes";

const LANE = { on_head: "on_head", wiped: "wiped", dried: "if_rinsed" } as const;
const WHERE = {
  on_head: "The head",
  wiped: "The wiped strand",
  dried: "The dried strand",
} as const;

interface QuestionProps {
  doubt: Doubt;
  clock: Running;
  /** The acts that have no room in the bar. */
  more: ComponentChildren;
}

/** Returns the question as the order: what to find out first, and why. */
export function question_of(doubt: Doubt, zone: string): Order {
  if (tube_asked.value) {
    const why =
      tube_asked.value === ANY_TUBE
        ? "Read the label of each tube that you used."
        : `In place of ${product_words(tube_asked.value)}. Read its label.`;
    return { verb: "Which tube went in?", why };
  }
  const expected = expected_of(doubt, zone);
  const { look } = doubt;
  const word = look.lab && expected ? direction(look.lab, expected.lab) : look_words(look);
  return {
    verb: question_of_doubt(doubt, ruled_out.value),
    why: `${WHERE[look.where ?? "wiped"]} is far ${word} than this mix makes it. Fewer than 1 head in 100 would look like this.`,
  };
}

function expected_of({ look }: Doubt, zone: string): Colour | undefined {
  const { prediction } = held(zone);
  const at = prediction && minute_in(prediction.strip, look.minute ?? 0);
  return at?.[LANE[look.where ?? "wiped"]];
}

/** Returns what to do if the look is right, in words: waiting may cost. */
function if_true_words({ if_true, at_minute }: Doubt, { began_ms }: Running): string {
  const at = at_minute === undefined ? "" : ` ${hour_and_minute(began_ms + at_minute * 60_000)}`;
  switch (if_true) {
    case "rinse":
      return "rinse now.";
    case "wait":
      return `rinse at${at}.`;
    case "look_again":
      return `look again at${at}.`;
    case "saturate_again":
      return "work more of the mix through.";
  }
}

function direction(seen: readonly number[], expected: readonly number[]): string {
  const [l = 0, a = 0, b = 0] = seen.map((value, at) => value - (expected[at] ?? 0));
  if (Math.abs(l) >= Math.hypot(a, b)) return l < 0 ? "darker" : "lighter";
  if (Math.abs(a) >= Math.abs(b)) return a > 0 ? "pinker" : "greener";
  return b > 0 ? "yellower" : "more violet";
}

/** Returns the question's reasons: read beside expected, the causes, and what to do if it is true. */
export function Question({ doubt, clock, more }: QuestionProps) {
  const { prediction } = useMemo(() => held_of(clock.zone), [clock.zone]).value;
  const { look, could_be } = doubt;
  const expected = expected_of(doubt, clock.zone);
  const minute = useMemo(() => minutes_of(clock), [clock]).value;
  const at_ms = clock.began_ms + minute * 60_000;
  const order = order_at(clock, at_ms, hour_and_minute, prediction?.saturate);
  if (tube_asked.value) {
    return <Tubes zone={clock.zone} meant={tube_asked.value} could_be={could_be} more={more} />;
  }
  return (
    <div class="basin-doubt">
      <div class="basin-read">
        <figure>
          <figcaption>{look.lab ? "you read" : "you saw"}</figcaption>
          {look.lab ? (
            <span class="shade" style={{ backgroundColor: hex_of_lab(look.lab as Lab) }} />
          ) : (
            <span class="shade shade-word">{look_words(look)}</span>
          )}
        </figure>
        <figure>
          <figcaption>expected at minute {look.minute}</figcaption>
          <Shade colour={expected} />
          <p>{expected && short_words(expected)}</p>
        </figure>
      </div>
      <Causes could_be={could_be} />
      <p class="basin-if">
        <strong>If it is right:</strong> {if_true_words(doubt, clock)} <strong>If not:</strong>{" "}
        {order.verb}
        {order.figure && ` ${order.figure} ${order.unit ?? ""}`}. {order.why}
      </p>
      {more}
    </div>
  );
}
