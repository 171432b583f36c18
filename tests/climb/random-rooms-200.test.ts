/** The third hundred of three hundred random rooms; see sound-rooms.ts. */
import { soundRooms } from "./sound-rooms.js";

soundRooms(200, 300);
