// The roles in which somebody decides.

/** The word for each. */
export const ROLES: Record<string, string> = {
  assistant: "assistant",
  colourist: "colourist",
  in_charge: "in charge today",
};
