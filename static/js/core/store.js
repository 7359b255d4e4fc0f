// @ts-check
/** @param {any} a @param {any} b one level deep, for what a view picks out of the state */
function same(a, b) {
  if (Object.is(a, b)) return true;
  if (!Array.isArray(a) || !Array.isArray(b) || a.length !== b.length) return false;
  return a.every((item, at) => Object.is(item, b[at]));
}

/**
 * The one place truth is held on the page. Views read it, subscribe to what they show, and hold
 * nothing of their own, so that the axis, the board and the reply cannot disagree.
 * Objects in it are replaced, never changed in place: that is how a view knows.
 * @template {object} S
 */
export class Store {
  /** @type {Set<{pick: (state: S) => any, last: any, show: (picked: any) => void}>} */
  #views = new Set();

  /** @param {S} state */
  constructor(state) {
    this.state = state;
  }

  /** @param {Partial<S>} patch */
  set(patch) {
    this.state = { ...this.state, ...patch };
    for (const view of [...this.#views]) {
      const picked = view.pick(this.state);
      if (same(picked, view.last)) continue;
      view.last = picked;
      view.show(picked);
    }
  }

  /**
   * Show now and at each change of what is picked.
   * @template P
   * @param {(state: S) => P} pick @param {(picked: P) => void} show
   * @returns {() => void} stop
   */
  on(pick, show) {
    const view = { pick, last: pick(this.state), show };
    this.#views.add(view);
    show(view.last);
    return () => void this.#views.delete(view);
  }
}
