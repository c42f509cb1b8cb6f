// Services of earlier days that never began: each can still be moved, or be said to be over.
import { never_begun } from "../../salon/service/day";
import { Row } from "./row";
import { today } from "./today";

/** Returns the list under one fold; nothing where nothing is open. */
export function NeverBegun() {
  const found = never_begun(today.value);
  if (found.length === 0) return null;
  return (
    <details class="never-begun">
      <summary>Not begun on their day: {found.length}</summary>
      <ul class="day">
        {found.map((service) => (
          <li key={service.id}>
            <Row service={service} past since />
          </li>
        ))}
      </ul>
    </details>
  );
}
