/** Plans that come in the page's own address, at first and whenever it changes: opened as new plans that are in no file. */
import { hasPlan } from "../../exchange/link-mark.js";
import type { FileDesk } from "../files/file-desk.js";

/** The plan's part of the address, which is taken out of it: a page loaded again later must not open it over newer work. */
export function takeLink(): string | undefined {
  const { hash, pathname, search } = location;
  if (!hasPlan(hash)) return undefined;
  history.replaceState(history.state, "", pathname + search);
  return hash;
}

/** False where there is no plan in it; the desk then tells why. */
export const openLink = async (files: Pick<FileDesk, "openRead">, hash: string): Promise<boolean> =>
  (await import("./open-link.js")).openPlanOf(files, hash);

/** Opens what comes while the page is open; what is unsaved then stays within reach, as with any file. */
export function followLinks(files: FileDesk): () => void {
  const follow = (): void => {
    const hash = takeLink();
    if (hash !== undefined) void openLink(files, hash);
  };
  addEventListener("hashchange", follow);
  return () => removeEventListener("hashchange", follow);
}
