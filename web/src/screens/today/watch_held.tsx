// Asks the safety rules which visits of today are held, one after the other, so that a mix that is
// asked for meanwhile waits for one of them at most.
import { effect } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { SafetyReviewReply } from "../../api/shapes";
import { ahead_of, ask_ahead, will_hold } from "../../gate/ahead";
import { moment_words } from "../../salon/alert_tests/alert_tests";
import { services_on } from "../../salon/service/day";
import type { Service } from "../../salon/service/services";
import { held_today } from "./held";

const BEAT_MS = 60_000;
/** The next ones of a long list: by then the page was opened again. */
const MOST_ASKED = 12;

/** Keeps the reasons of today's visits; shows nothing itself. */
export function WatchHeld({ day }: { day: string }) {
  useEffect(() => {
    let round = 0;
    const ask_each = async () => {
      round += 1;
      const mine = round;
      for (const service of next_on(day)) {
        if (mine !== round) return;
        await ask_ahead(service);
      }
    };
    const end_asking = effect(() => {
      void next_on(day);
      void ask_each();
    });
    const end_saying = effect(() => {
      held_today.value = new Map(
        next_on(day).flatMap(({ id }) => {
          const reply = ahead_of(id)?.reply;
          const why = reply && why_held(reply);
          return why ? [[id, why]] : [];
        }),
      );
    });
    const beat = setInterval(() => void ask_each(), BEAT_MS);
    return () => {
      round += 1;
      end_asking();
      end_saying();
      clearInterval(beat);
    };
  }, [day]);
  return null;
}

/** The day's next visits of clients that have not begun. */
function next_on(day: string): Service[] {
  return services_on(day)
    .filter(
      ({ state, purpose, not_done }) =>
        state === "planned" && (purpose ?? "client") === "client" && !not_done,
    )
    .slice(0, MOST_ASKED);
}

/** Returns what holds a visit in few words; a rule that is not about the test in its own. */
function why_held(reply: SafetyReviewReply): string | undefined {
  const [first] = will_hold(reply);
  if (!first) return undefined;
  const { state, ready_at } = reply.alert_test;
  switch (state) {
    case "missing":
      return "No alert test";
    case "other_line":
      return "No alert test of its line";
    case "lapsed":
      return "The alert test lapsed";
    case "reacted":
      return "The test spot reacted";
    case "too_soon":
      return ready_at ? `Read the test from ${moment_words(Date.parse(ready_at))}` : first;
    default:
      return first;
  }
}
