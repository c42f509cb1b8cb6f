// What is asked about a service while it is on the page: the rules, and what is foretold of its zones.
import { watch_gate } from "../../gate/held";
import { all_is_open } from "../../parts/later";

/** Keeps both asked, once the page itself is there. Returns the function that ends that. */
export function watch_service(service: string): () => void {
  const ends: (() => void)[] = [];
  let ended = false;
  void all_is_open().then(async () => {
    if (ended) return;
    ends.push(watch_gate(service));
    const { watch_predictions } = await import("../../prediction/watch");
    if (!ended) ends.push(watch_predictions(service));
  });
  return () => {
    ended = true;
    for (const end of ends) end();
  };
}
