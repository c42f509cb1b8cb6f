// Stands where a screen cannot be drawn. What it then says comes later: hardly anybody needs it.
import type { ComponentChildren } from "preact";
import { is_aside } from "../../device/set_aside";
import { Boundary } from "../../parts/boundary";
import { later } from "../../parts/later";
import type { Opened } from "./shown";

const Broken = later<Opened>(() => import("./shown").then((screen) => screen.Broken));
const Aside = later<Opened>(() => import("./shown").then((screen) => screen.Aside));

/** Returns the screen of a place, or what stands for it where it cannot be drawn or was set aside. */
export function Guarded({ name, id, children }: Opened & { children: ComponentChildren }) {
  if (is_aside({ name, id })) return <Aside name={name} id={id} />;
  return <Boundary otherwise={() => <Broken name={name} id={id} />}>{children}</Boundary>;
}
