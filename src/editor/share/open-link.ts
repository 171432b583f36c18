/** Opens the plan of a link: read as a file is, and told of as one. */
import { planOfLink } from "../../exchange/share-link.js";
import type { FileDesk } from "../files/file-desk.js";

const CALLED = "The link";

export const openPlanOf = (files: Pick<FileDesk, "openRead">, hash: string): boolean =>
  files.openRead(planOfLink(hash, CALLED), CALLED, { unsaved: true });
