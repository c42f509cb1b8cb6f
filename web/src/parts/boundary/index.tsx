// Keeps a fault in one part of the page from emptying the rest of it.
import { Component, type ComponentChildren } from "preact";

interface BoundaryProps {
  children: ComponentChildren;
  /** What is shown in its place once it cannot be drawn; nothing without it. */
  otherwise?: () => ComponentChildren;
}

/** Shows its children, or something else from the first time that one of them cannot be drawn. */
export class Boundary extends Component<BoundaryProps, { failed: boolean }> {
  override state = { failed: false };

  override componentDidCatch(why: unknown): void {
    reportError(why);
    this.setState({ failed: true });
  }

  override render({ children, otherwise }: BoundaryProps, { failed }: { failed: boolean }) {
    return failed ? otherwise?.() : children;
  }
}
