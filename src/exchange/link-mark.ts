/** How an address tells that it carries a plan; apart from what packs and unpacks one, so that a page can look without it. */

/** Before the letters, so that a later version can write them in another way. */
export const MARK = "plan=1.";

/** Whether an address carries a plan. */
export const hasPlan = (hash: string): boolean => hash.replace(/^#/, "").startsWith("plan=");
