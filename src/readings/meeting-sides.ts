/**
 * What rules find of every meeting of two lines, kept as long as nothing of the meeting or its lines changes.
 *
 * Always holds: what is told is what asking about every meeting would tell, in the order of meetings.
 */
import { changedKeys } from "../layout/changed-keys.js";
import type { Layout } from "../layout/layout.js";
import type { LineKey } from "../layout/line.js";
import { type Meeting, type MeetingGroup, meetingGroups } from "../layout/meetings.js";
import { sameItems } from "./remember.js";

/**
 * All that is found of the meetings of a layout. `sides` is what is known of the lines: a meeting is asked about anew
 * where it, or the side of one of its lines, is not the object it was, or something `beside` is not.
 */
export function foundByMeeting<S extends object, D extends readonly unknown[], V extends object>(
  find: (meeting: Meeting, a: S, b: S, ...beside: D) => V | undefined,
): (layout: Layout, sides: ReadonlyMap<LineKey, S>, ...beside: D) => readonly V[] {
  interface Found {
    readonly sides: ReadonlyMap<LineKey, S>;
    readonly groups: ReadonlyMap<LineKey, MeetingGroup>;
    readonly beside: D;
    readonly byGroup: WeakMap<MeetingGroup, readonly V[]>;
    readonly all: readonly V[];
  }
  const known = new WeakMap<object, Found>();
  return (layout, sides, ...beside) => {
    const add = (to: V[], meetings: readonly Meeting[]): void => {
      for (const meeting of meetings) {
        const [a, b] = [sides.get(meeting.a), sides.get(meeting.b)];
        const found = a && b && find(meeting, a, b, ...beside);
        if (found) to.push(found);
      }
    };
    const all: V[] = [];
    const { meetings } = layout;
    const groups = meetingGroups(meetings);
    if (!groups) {
      add(all, meetings);
      return all;
    }
    const family = layout.plan.scale;
    const last = known.get(family);
    const carried = last && sameItems(last.beside, beside) ? last : undefined;
    const changed = carried && changedKeys(carried.sides, sides);
    if (carried && changed?.size === 0 && carried.groups === groups) return carried.all;
    const byGroup = (changed && carried?.byGroup) ?? new WeakMap<MeetingGroup, readonly V[]>();
    for (const group of groups.values()) {
      let own = changed && touches(group, changed) ? undefined : byGroup.get(group);
      if (!own) {
        const anew: V[] = [];
        add(anew, group.meetings);
        byGroup.set(group, (own = anew));
      }
      for (const found of own) all.push(found);
    }
    known.set(family, { sides, groups, beside, byGroup, all });
    return all;
  };
}

function touches({ meetings }: MeetingGroup, changed: ReadonlySet<LineKey>): boolean {
  if (changed.size === 0) return false;
  for (const { a, b } of meetings) if (changed.has(a) || changed.has(b)) return true;
  return false;
}
