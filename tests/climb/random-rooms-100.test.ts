/** The second hundred of three hundred random rooms; see sound-rooms.ts. */
import { soundRooms } from "./sound-rooms.js";

soundRooms(100, 200);
