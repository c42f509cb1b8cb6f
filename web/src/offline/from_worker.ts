/** What the service worker tells the page after a tap on a notification. */
export interface FromWorker {
  /** The page's own address to go to: "#/service/0199…". */
  go_to?: string;
  /** The key of an alarm that was heard. */
  heard?: string;
}

/** The button of a notification that hears its alarm without opening the page. */
export const HEARD = "heard";
