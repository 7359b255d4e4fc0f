// @ts-check
/** Draws the two load charts on one time axis; the tables beside them carry the same numbers. */

const HEIGHT = 240;
const WEEK = 7 * 86400;
const DAY = 86400;
const LABEL_ROOM = 76;

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
  #told = () => {
    this.querySelectorAll("[data-event]").forEach((event, n) => {
      const number = event.querySelector("[data-number]");
      if (number) number.textContent = String(n + 1);
    });
    if (this.#charts.length) this.#draw();
  };

  connectedCallback() {
    const told = this.querySelector("#load-data")?.textContent;
    if (!told) return;
    this.data = /** @type {Data} */ (JSON.parse(told));
    let width = 0;
    this.#watch = new ResizeObserver(() => {
      if (this.clientWidth !== width) {
        width = this.clientWidth;
        this.#draw();
      }
    });
    this.#watch.observe(this);
    this.#theme.addEventListener("change", this.#redraw);
    this.addEventListener("htmx:afterSwap", this.#told);
  }

  disconnectedCallback() {
    this.#watch?.disconnect();
    this.#theme.removeEventListener("change", this.#redraw);
    this.removeEventListener("htmx:afterSwap", this.#told);
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

  /** @param {any[]} series @param {(chart: any) => void} draw @param {number} top */
  #options(series, draw, top) {
    const data = /** @type {Data} */ (this.data);
    const ink = this.#colour("--muted");
    const line = this.#colour("--line");
    const font = `14px ${getComputedStyle(this).fontFamily}`;
    const number = new Intl.NumberFormat("en-GB", { maximumFractionDigits: 1 });
    const axis = { stroke: ink, font, ticks: { show: false } };
    const format = new Intl.DateTimeFormat("en-GB", { day: "numeric", month: "short", timeZone: "UTC" });
    return {
      width: this.clientWidth,
      height: HEIGHT,
      legend: { show: false },
      cursor: { show: false },
      padding: [24, LABEL_ROOM, 0, 0],
      tzDate: (/** @type {number} */ at) => new Date(at * 1000),
      scales: {
        x: { time: true, range: [data.from, data.to] },
        y: { range: [0, top > 0 ? top * 1.08 : 1] },
      },
      axes: [
        {
          ...axis,
          grid: { show: false },
          space: 72,
          size: 32,
          splits: () => this.#mondays(),
          values: (/** @type {any} */ _, /** @type {number[]} */ at) =>
            at.map((one) => format.format(one * 1000)),
        },
        {
          ...axis,
          grid: { stroke: line, width: 1 },
          size: 64,
          values: (/** @type {any} */ _, /** @type {number[]} */ at) => at.map((one) => number.format(one)),
        },
      ],
      series: [{}, ...series],
      hooks: { draw: [(/** @type {any} */ chart) => { draw(chart); this.#events(chart); }] },
    };
  }

  #mondays() {
    const { weeks } = /** @type {Data} */ (this.data);
    const each = Math.ceil((weeks.length * 64) / Math.max(this.clientWidth - 64 - LABEL_ROOM, 64));
    return weeks.filter((_, n) => n % each === 0).map((week) => week.at);
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
    const top = Math.max(0, ...seven.map((one) => one ?? 0), ...month.map((one) => one ?? 0));
    const lines = [
      { name: "7 days", values: seven, stroke: this.#colour("--chart-2") },
      { name: "28 days", values: month, stroke: this.#colour("--chart-1") },
    ];
    const series = lines.map(({ stroke }) => ({ stroke, width: 2.5, spanGaps: false, points: { show: false } }));
    const draw = (/** @type {any} */ chart) => {
      const ends = lines.flatMap(({ name, values, stroke }) => {
        const last = values.findLastIndex((one) => one !== null);
        if (last < 0) return [];
        return [{ name, stroke, x: chart.valToPos(days[last], "x", true), y: chart.valToPos(values[last], "y", true) }];
      });
      ends.sort((one, other) => one.y - other.y);
      const apart = 18 * devicePixelRatio;
      if (ends.length === 2 && ends[1].y - ends[0].y < apart) {
        const middle = (ends[0].y + ends[1].y) / 2;
        [ends[0].y, ends[1].y] = [middle - apart / 2, middle + apart / 2];
      }
      for (const { name, stroke, x, y } of ends) this.#write(chart, name, x + 8 * devicePixelRatio, y, stroke);
    };
    return { options: this.#options(series, draw, top), data: [days, seven, month] };
  }

  /** A numbered mark above the plot and a thin line through it, for each event of the list. @param {any} chart */
  #events(chart) {
    const pain = this.#colour("--pain");
    const broken = this.#colour("--attention");
    const told = this.#colour("--ink");
    const { ctx, bbox } = chart;
    this.querySelectorAll("[data-event]").forEach((event, n) => {
      if (!(event instanceof HTMLElement)) return;
      const hurt = event.dataset.kind === "pain";
      const colour = hurt ? pain : event.dataset.kind === "fault" ? told : broken;
      const x = chart.valToPos(Number(event.dataset.event) + DAY / 2, "x", true);
      ctx.save();
      ctx.strokeStyle = colour;
      ctx.lineWidth = 1.5 * devicePixelRatio;
      if (!hurt) ctx.setLineDash([2 * devicePixelRatio, 3 * devicePixelRatio]);
      ctx.beginPath();
      ctx.moveTo(x, bbox.top);
      ctx.lineTo(x, bbox.top + bbox.height);
      ctx.stroke();
      ctx.restore();
      this.#write(chart, String(n + 1), x, bbox.top - 10 * devicePixelRatio, colour, "center");
    });
  }

  /**
   * @param {any} chart @param {string} text @param {number} x @param {number} y
   * @param {string} colour @param {CanvasTextAlign} align
   */
  #write({ ctx }, text, x, y, colour, align = "left") {
    ctx.save();
    ctx.font = `600 ${14 * devicePixelRatio}px ${getComputedStyle(this).fontFamily}`;
    ctx.fillStyle = colour;
    ctx.textAlign = align;
    ctx.textBaseline = "middle";
    ctx.fillText(text, x, y);
    ctx.restore();
  }
}

customElements.define("load-charts", LoadCharts);
