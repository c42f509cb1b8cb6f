/** What the service worker tells the page after a tap on a notification. */
export interface FromWorker {
  /** The page's own address to go to: "#/service/0199…". */
  go_to?: string;
  /** The key of an alarm that was heard. */
  heard?: string;
}

/** The button of a notification that hears its alarm without opening the page. */
export const HEARD = "heard";

/** A file that another program gave to the app, until somebody has used it or put it away. */
export interface SharedFile {
  /** "day": appointments; "records": all of a phone; "other": nothing that the app reads. */
  kind: "photo" | "day" | "records" | "other";
  name: string;
  /** Its media type: "image/jpeg". */
  type: string;
  /** Its bytes as base64. */
  data: string;
}

/** What a shared file is kept under: a form, so that an erasure of anybody takes it too. */
export const SHARED = "shared";
