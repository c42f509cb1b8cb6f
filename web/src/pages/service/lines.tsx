// The lines of the folded wish and hair, which need the colours' words.
import { hair_line } from "../../screens/hair/shown";
import { wish_words } from "../../screens/wish/shown";

/** Returns the wish in a line. */
export function WishLine() {
  return <>{wish_words.value || "not chosen yet"}</>;
}

/** Returns the hair in a line. */
export function HairLine() {
  return <>{hair_line.value}</>;
}
