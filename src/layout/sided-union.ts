/**
 * Union of places that have two sides. Joining two turns one of them round where asked, and the turning is kept, so
 * that every member knows whether its side 0 is its root's side 0. Places are numbered as they are added.
 *
 * Always holds: after `join(a, b, head)` of two that were apart, a and b have one root, and their turns differ exactly
 * where `head` is true; turns of members joined before keep their difference; the root is the first of all by name, in
 * whatever order they are joined; joining what is one already changes nothing.
 */
export class SidedUnion {
  private readonly names: string[] = [];
  private readonly parent: number[] = [];
  /** Whether a place stands turned against its parent. */
  private readonly against: boolean[] = [];

  get size(): number {
    return this.names.length;
  }

  /** A new place of its own; gives its number. */
  add(name: string): number {
    this.parent.push(this.names.length);
    this.against.push(false);
    return this.names.push(name) - 1;
  }

  nameOf(place: number): string {
    return this.names[place] ?? "";
  }

  /** The member that stands for the whole place. */
  root(place: number): number {
    let at = place;
    for (let up = this.parent[at] ?? at; up !== at; up = this.parent[at] ?? at) at = up;
    if (this.parent[place] !== at) this.shorten(place, at);
    return at;
  }

  /** Whether a member stands turned against its root. */
  turned(place: number): boolean {
    this.root(place);
    return this.against[place] ?? false;
  }

  /** Everyone on the way to the root now points at it, or chains of joins would be walked again and again. */
  private shorten(place: number, root: number): void {
    const way: number[] = [];
    for (let at = place; at !== root; at = this.parent[at] ?? root) way.push(at);
    let turned = false;
    for (const at of way.reverse()) {
      turned = turned !== (this.against[at] ?? false);
      this.parent[at] = root;
      this.against[at] = turned;
    }
  }

  /** Makes two places one. `head` where they meet head to head: one's side 0 is the other's side 1. */
  join(a: number, b: number, head: boolean): void {
    const ra = this.root(a);
    const rb = this.root(b);
    if (ra === rb) return;
    const turned = (this.turned(a) !== this.turned(b)) !== head;
    const [root, child] = this.nameOf(ra) < this.nameOf(rb) ? [ra, rb] : [rb, ra];
    this.parent[child] = root;
    this.against[child] = turned;
  }
}
