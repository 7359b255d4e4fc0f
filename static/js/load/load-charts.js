// @ts-check
/** Draws the two load charts on one time axis; the tables beside them carry the same numbers. */

import { ChartLabels, rowsOf, sizeOf } from "./chart-labels.js";

const HEIGHT = 240;
const WEEK = 7 * 86400;
const DAY = 86400;
const LEFT = 64; // px for the numbers
const UNDER = 32; // px for the days

/**
 * @typedef {{at: number, total: number|null, partly: boolean}} Week
 * @typedef {{unit: string, weeks: Week[], days: number[], seven: (number|null)[],
 *   month: (number|null)[], from: number, to: number}} Data
 */

class LoadCharts extends HTMLElement {
  /** @type {any[]} */ #charts = [];
  /** @type {ResizeObserver|undefined} */ #watch;
  #theme = matchMedia("(prefers-color-scheme: dark)");
  #redraw = () => this.#draw();
  /** The faults came: they go on with the numbers of the list before them. */
  #numberEvents = () => {
    this.querySelectorAll("[data-event]").forEach((event, n) => {
      const number = event.querySelector("[data-number]");
      if (number) number.textContent = String(n + 1);
    });
    if (this.#charts.length) this.#draw();
  };

  connectedCallback() {
    const json = this.querySelector("#load-data")?.textContent;
    if (!json) return;
    this.data = /** @type {Data} */ (JSON.parse(json));
    let width = 0;
    this.#watch = new ResizeObserver(() => {
      if (this.clientWidth !== width) {
        width = this.clientWidth;
        this.#draw();
      }
    });
    this.#watch.observe(this);
    this.#theme.addEventListener("change", this.#redraw);
    this.addEventListener("htmx:afterSwap", this.#numberEvents);
  }

  disconnectedCallback() {
    this.#watch?.disconnect();
    this.#theme.removeEventListener("change", this.#redraw);
    this.removeEventListener("htmx:afterSwap", this.#numberEvents);
    for (const chart of this.#charts) chart.destroy();
  }

  #draw() {
    for (const chart of this.#charts) chart.destroy();
    this.#charts = [];
    for (const place of this.querySelectorAll("[data-chart]")) {
      if (!(place instanceof HTMLElement)) continue;
      const options = place.dataset.chart === "weeks" ? this.#weeks() : this.#averages();
      const UPlot = /** @type {any} */ (globalThis).uPlot;
      this.#charts.push(new UPlot(options.options, options.data, place));
    }
    this.dataset.drawn = "";
  }

  /** @param {string} name @returns {string} a token as a colour the canvas knows */
  #colour(name) {
    const probe = document.createElement("i");
    probe.style.setProperty("color", `var(${name})`);
    this.append(probe);
    const { color } = getComputedStyle(probe);
    probe.remove();
    return color;
  }

  /** @param {any[]} series @param {(chart: any, labels: ChartLabels) => void} draw @param {number} top */
  #options(series, draw, top) {
    const data = /** @type {Data} */ (this.data);
    const line = this.#colour("--line");
    const number = new Intl.NumberFormat("en-GB", { maximumFractionDigits: 1 });
    const axis = { ticks: { show: false } };
    const { events, rows, size, room } = this.#measured();
    /** @type {number[]} */
    let lines = [];
    const nothing = (/** @type {number[]} */ at) => at.map(() => ""); // ChartLabels writes them
    const format = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", timeZone: "UTC" });
    return {
      width: this.clientWidth,
      height: HEIGHT + (rows - 1) * size.height,
      legend: { show: false },
      cursor: { show: false },
      padding: [rows * size.height + 8, room, 0, 0],
      tzDate: (/** @type {number} */ at) => new Date(at * 1000),
      scales: {
        x: { time: true, range: [data.from, data.to] },
        y: { range: [0, top > 0 ? top * 1.08 : 1] },
      },
      axes: [
        {
          ...axis,
          grid: { show: false },
          size: UNDER,
          splits: () => data.weeks.map((week) => week.at),
          values: (/** @type {any} */ _, /** @type {number[]} */ at) => nothing(at),
        },
        {
          ...axis,
          grid: { stroke: line, width: 1 },
          size: LEFT,
          space: 2 * size.height,
          values: (/** @type {any} */ _, /** @type {number[]} */ at) => nothing((lines = at)),
        },
      ],
      series: [{}, ...series],
      hooks: {
        draw: [
          (/** @type {any} */ chart) => {
            chart.over.querySelector(".load-labels")?.remove();
            const labels = new ChartLabels(chart);
            const x = (/** @type {number} */ at) => chart.valToPos(at, "x");
            draw(chart, labels);
            this.#events(chart, events);
            labels.above(events.map(({ text, at, kind }) => ({ text, kind, at: x(at) })));
            labels.below(data.weeks.map(({ at }) => ({ text: format.format(at * 1000), at: x(at) })));
            labels.beside(lines.map((value) => ({ text: number.format(value), at: chart.valToPos(value, "y") })));
          },
        ],
      },
    };
  }

  /** The events of the list, the rows that their numbers need above a plot, and the room beside it. */
  #measured() {
    const data = /** @type {Data} */ (this.data);
    const events = [...this.querySelectorAll("[data-event]")].map((event, n) => {
      const { event: at, kind = "" } = /** @type {HTMLElement} */ (event).dataset;
      return { text: String(n + 1), at: Number(at) + DAY / 2, kind };
    });
    const size = sizeOf(this, "28 days");
    const room = size.width + 16;
    const wide = (this.clientWidth - LEFT - room) / (data.to - data.from);
    const places = events.map(({ text, at }) => ({ at: (at - data.from) * wide, width: sizeOf(this, text).width }));
    return { events, rows: 1 + Math.max(0, ...rowsOf(places)), size, room };
  }

  #weeks() {
    const { weeks } = /** @type {Data} */ (this.data);
    const top = Math.max(...weeks.map((week) => week.total ?? 0));
    const fill = this.#colour("--line-strong");
    const ink = this.#colour("--ink");
    const draw = (/** @type {any} */ chart) => {
      const { ctx } = chart;
      ctx.save();
      ctx.lineWidth = devicePixelRatio;
      for (const week of weeks) {
        const left = chart.valToPos(week.at + 0.6 * DAY, "x", true);
        const width = chart.valToPos(week.at + WEEK - 0.6 * DAY, "x", true) - left;
        const foot = chart.valToPos(0, "y", true);
        const head = chart.valToPos(week.total ?? top / 2, "y", true);
        ctx.fillStyle = ctx.strokeStyle = week.partly || week.total === null ? ink : fill;
        ctx.globalAlpha = week.partly || week.total === null ? 0.12 : 0.6;
        if (week.total !== null) ctx.fillRect(left, head, width, foot - head);
        ctx.globalAlpha = 1;
        if (week.partly || week.total === null) {
          ctx.setLineDash([3 * devicePixelRatio, 4 * devicePixelRatio]);
          ctx.strokeRect(left, head, width, foot - head);
          ctx.setLineDash([]);
        }
      }
      ctx.restore();
    };
    const series = [{ stroke: "transparent", points: { show: false } }];
    const data = [weeks.map((week) => week.at), weeks.map((week) => week.total)];
    return { options: this.#options(series, draw, top), data };
  }

  #averages() {
    const { days, seven, month } = /** @type {Data} */ (this.data);
    const top = Math.max(0, ...seven.map((value) => value ?? 0), ...month.map((value) => value ?? 0));
    const lines = [
      { name: "7 days", kind: "seven", values: seven, stroke: this.#colour("--chart-2") },
      { name: "28 days", kind: "month", values: month, stroke: this.#colour("--chart-1") },
    ];
    const series = lines.map(({ stroke }) => ({ stroke, width: 2.5, spanGaps: false, points: { show: false } }));
    const draw = (/** @type {any} */ chart, /** @type {ChartLabels} */ labels) => {
      const ends = lines.flatMap(({ name, kind, values }) => {
        const last = values.findLastIndex((value) => value !== null);
        if (last < 0) return [];
        return [{ text: name, kind, x: chart.valToPos(days[last], "x"), y: chart.valToPos(values[last], "y") }];
      });
      labels.ends(ends);
    };
    return { options: this.#options(series, draw, top), data: [days, seven, month] };
  }

  /** A thin line through the plot for each event. @param {any} chart @param {{at: number, kind: string}[]} events */
  #events(chart, events) {
    const colours = { pain: this.#colour("--pain"), fault: this.#colour("--ink"), broken: this.#colour("--attention") };
    const { ctx, bbox } = chart;
    for (const { at, kind } of events) {
      const x = chart.valToPos(at, "x", true);
      ctx.save();
      ctx.strokeStyle = colours[/** @type {keyof typeof colours} */ (kind)] ?? colours.broken;
      ctx.lineWidth = 1.5 * devicePixelRatio;
      if (kind !== "pain") ctx.setLineDash([2 * devicePixelRatio, 3 * devicePixelRatio]);
      ctx.beginPath();
      ctx.moveTo(x, bbox.top);
      ctx.lineTo(x, bbox.top + bbox.height);
      ctx.stroke();
      ctx.restore();
    }
  }
}

customElements.define("load-charts", LoadCharts);
