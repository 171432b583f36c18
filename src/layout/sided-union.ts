/**
 * Union of places that have two sides. Joining two turns one of them round where asked, and the turning is kept, so
 * that every member knows whether its side 0 is its root's side 0.
 */
export class SidedUnion {
  private readonly parent = new Map<string, { to: string; turned: boolean }>();

  /** The member that stands for the whole place (the first by name), and whether `key` stands turned against it. */
  find(key: string): { root: string; turned: boolean } {
    let at = key;
    let turned = false;
    for (let up = this.parent.get(at); up; up = this.parent.get(at)) {
      turned = turned !== up.turned;
      at = up.to;
    }
    if (at !== key) this.parent.set(key, { to: at, turned });
    return { root: at, turned };
  }

  /** Makes two places one. `head` where they meet head to head: one's side 0 is the other's side 1 seen the same way. */
  join(a: string, b: string, head: boolean): void {
    const ra = this.find(a);
    const rb = this.find(b);
    if (ra.root === rb.root) return;
    const turned = (ra.turned !== rb.turned) !== head;
    const [root, child] = ra.root < rb.root ? [ra.root, rb.root] : [rb.root, ra.root];
    this.parent.set(child, { to: root, turned });
  }
}
