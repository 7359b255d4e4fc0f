// @ts-check
/**
 * The words of a chart, as elements over its plot: they have boxes, so that none lies on another,
 * they grow with the reader's text, and they keep their colours where the system chooses them.
 */

import { h } from "../core/dom.js";

const GAP = 4; // px between two labels
const BELOW = 12; // px from the plot to the days under it: half a line of the number beside it

/** @typedef {{text: string, at: number, kind?: string}} Mark `at`: px from the left of the plot */

/**
 * The row of each label, 0 nearest to the plot: the first in which the one before it leaves room.
 * Pure. @param {{at: number, width: number}[]} labels centred on `at`, in any order @returns {number[]}
 */
export function rowsOf(labels) {
  /** @type {number[]} the right end of the last label of each row */
  const ends = [];
  const rows = labels.map(() => 0);
  const order = labels.map((_, n) => n).sort((a, b) => labels[a].at - labels[b].at);
  for (const n of order) {
    const { at, width } = labels[n];
    const free = ends.findIndex((end) => end + GAP <= at - width / 2);
    rows[n] = free < 0 ? ends.length : free;
    ends[rows[n]] = at + width / 2;
  }
  return rows;
}

/**
 * Heights of labels that want to stand at `wanted`, moved apart by `apart` and kept in 0 to `most`.
 * Pure; for as many as fit. @param {number[]} wanted @param {number} apart @param {number} most
 * @returns {number[]}
 */
export function movedApart(wanted, apart, most) {
  const order = wanted.map((_, n) => n).sort((a, b) => wanted[a] - wanted[b]);
  const tops = [...wanted];
  let least = 0;
  for (const n of order) {
    tops[n] = Math.max(tops[n], least);
    least = tops[n] + apart;
  }
  let limit = most;
  for (const n of order.reverse()) {
    tops[n] = Math.min(tops[n], limit);
    limit = tops[n] - apart;
  }
  return tops;
}

/** Measures a label as it will be drawn. @param {HTMLElement} place @param {string} text */
export function sizeOf(place, text) {
  const probe = h("span.load-label", {}, text);
  place.append(probe);
  const { offsetWidth: width, offsetHeight: height } = probe;
  probe.remove();
  return { width, height };
}

export class ChartLabels {
  /** @param {any} chart of uPlot */
  constructor(chart) {
    this.chart = chart;
    this.element = h("div.load-labels", { "aria-hidden": "true" });
    chart.over.append(this.element);
  }

  /** @param {string} text @param {string} [kind] @returns {HTMLElement} */
  #add(text, kind) {
    const label = h("span.load-label", kind ? { "data-kind": kind } : {}, text);
    this.element.append(label);
    return label;
  }

  /** @param {HTMLElement} label @param {number} left @param {number} top */
  #put(label, left, top) {
    label.style.setProperty("left", `${left}px`);
    label.style.setProperty("top", `${top}px`);
  }

  /** Numbers beside the left edge, each centred on its line. @param {{text: string, at: number}[]} marks `at`: px from the top */
  beside(marks) {
    for (const { text, at } of marks) {
      const label = this.#add(text);
      this.#put(label, -label.offsetWidth - 2 * GAP, at - label.offsetHeight / 2);
    }
  }

  /** Days under the plot: each, or every second, third... as there is room. @param {Mark[]} marks evenly apart, in order */
  below(marks) {
    const labels = marks.map(({ text }) => this.#add(text));
    const widest = Math.max(0, ...labels.map((label) => label.offsetWidth)) + 2 * GAP;
    const apart = marks.length > 1 ? marks[1].at - marks[0].at : widest;
    const each = Math.max(1, Math.ceil(widest / apart));
    labels.forEach((label, n) => {
      if (n % each) label.remove();
      else this.#put(label, marks[n].at - label.offsetWidth / 2, this.chart.over.clientHeight + BELOW);
    });
  }

  /** Numbers of events above the plot, in rows. @param {Mark[]} marks */
  above(marks) {
    const labels = marks.map(({ text, kind }) => this.#add(text, kind));
    const rows = rowsOf(marks.map(({ at }, n) => ({ at, width: labels[n].offsetWidth })));
    labels.forEach((label, n) => {
      this.#put(label, marks[n].at - label.offsetWidth / 2, -(rows[n] + 1) * label.offsetHeight - GAP);
    });
  }

  /** The name of each line at its end. @param {{text: string, x: number, y: number, kind: string}[]} ends */
  ends(ends) {
    const labels = ends.map(({ text, kind }) => this.#add(text, kind));
    const height = labels[0]?.offsetHeight ?? 0;
    const tops = movedApart(ends.map(({ y }) => y - height / 2), height, this.chart.over.clientHeight - height);
    labels.forEach((label, n) => this.#put(label, ends[n].x + 2 * GAP, tops[n]));
  }
}
