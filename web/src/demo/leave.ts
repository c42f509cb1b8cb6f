// The way out of the demo day, and the one way into its world or out of it: the page loads again.
import { choose_world } from "../outbox/world";

/** Removes the demo day: the page loads again with the salon's own records. */
export function remove_demo(): void {
  choose_world(false, Date.now());
  load_again();
}

/** Loads the page again on its day; what is left of a demo day goes once it is there. */
export function load_again(): void {
  location.hash = "#/today";
  location.reload();
}
