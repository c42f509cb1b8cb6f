// The places that this phone shows as plain text, since their screens cannot be drawn.
import { kept } from "./kept";

interface Opened {
  name: string;
  id: string;
}

/** The places that were set aside here, the latest last. */
export const set_aside = kept<readonly Opened[]>("set_aside", []);

const same = (one: Opened, other: Opened) => one.name === other.name && one.id === other.id;

/** Returns whether a place was set aside. */
export function is_aside(opened: Opened): boolean {
  return set_aside.value.some((each) => same(each, opened));
}

/** Shows a place as plain text from now on. */
export function put_aside({ name, id }: Opened): void {
  if (!is_aside({ name, id })) set_aside.value = [...set_aside.value, { name, id }];
}

/** Opens a place as it was again. */
export function open_again(opened: Opened): void {
  set_aside.value = set_aside.value.filter((each) => !same(each, opened));
}
