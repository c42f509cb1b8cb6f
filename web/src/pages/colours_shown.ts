// Two colours that one section shows from another: the present hair, and the wish.
import { live_look } from "../screens/hair/shown";
import { wish_look, wish_words } from "../screens/wish/shown";

/** Returns the hair as entered, dry, with its words. */
export function hair_shown() {
  return { hex: live_look.value?.dry, words: live_look.value?.words ?? " " };
}

/** Returns the wish as entered, with its words. */
export function wish_shown() {
  return { hex: wish_look.value, words: wish_words.value || " " };
}
