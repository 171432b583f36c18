/**
 * Union of places that have two sides. Joining two turns one of them round where asked, and the turning is kept, so
 * that every member knows whether its side 0 is its root's side 0.
 *
 * Always holds: after `join(a, b, head)` of two that were apart, a and b have one root, and their turns differ exactly
 * where `head` is true; turns of members joined before keep their difference; the root is the first of all by name, in
 * whatever order they are joined; joining what is one already changes nothing.
 */
export class SidedUnion {
  private readonly parent = new Map<string, { to: string; turned: boolean }>();

  /** The member that stands for the whole place (the first by name), and whether `key` stands turned against it. */
  find(key: string): { root: string; turned: boolean } {
    const up = this.parent.get(key);
    if (!up) return { root: key, turned: false };
    if (!this.parent.has(up.to)) return { root: up.to, turned: up.turned };
    let at = key;
    let turned = false;
    for (let next = this.parent.get(at); next; next = this.parent.get(at)) {
      turned = turned !== next.turned;
      at = next.to;
    }
    const root = at;
    // Everyone on the way now points at the root, or chains of joins would be walked again and again.
    at = key;
    let rest = turned;
    for (let next = this.parent.get(at); next && next.to !== root; next = this.parent.get(at)) {
      this.parent.set(at, { to: root, turned: rest });
      rest = rest !== next.turned;
      at = next.to;
    }
    return { root, turned };
  }

  /** Makes two places one. `head` where they meet head to head: one's side 0 is the other's side 1. */
  join(a: string, b: string, head: boolean): void {
    const ra = this.find(a);
    const rb = this.find(b);
    if (ra.root === rb.root) return;
    const turned = (ra.turned !== rb.turned) !== head;
    const [root, child] = ra.root < rb.root ? [ra.root, rb.root] : [rb.root, ra.root];
    this.parent.set(child, { to: root, turned });
  }
}
