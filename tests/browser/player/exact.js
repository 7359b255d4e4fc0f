// @ts-check
/** Reads the number burnt into the picture that is on the screen, and walks the player about. */
const SQUARE = 20;
const BITS = 16;
const canvas = new OffscreenCanvas(SQUARE * BITS, SQUARE);
const pen = /** @type {OffscreenCanvasRenderingContext2D} */ (
  canvas.getContext("2d", { willReadFrequently: true })
);
/** @type {any} */
const player = document.getElementById("player");

function seen() {
  pen.drawImage(player.picture, 0, 0, SQUARE * BITS, SQUARE, 0, 0, SQUARE * BITS, SQUARE);
  let number = 0;
  for (let bit = 0; bit < BITS; bit += 1) {
    const [red] = pen.getImageData(bit * SQUARE + SQUARE / 2, SQUARE / 2, 1, 1).data;
    if (red > 127) number |= 1 << bit;
  }
  return number;
}

/** @param {string} name */
async function open(name) {
  player.setAttribute("frames", `/clips/${name}.json`);
  player.setAttribute("src", `/clips/${name}.mp4`);
  await player.ready;
  return player.table.length;
}

/** @param {number[]} frames visit each; [wanted, said, seen] for every one */
async function visit(frames) {
  const rows = [];
  for (const frame of frames) {
    await player.goTo(frame);
    rows.push([frame, player.currentFrame, seen()]);
  }
  return rows;
}

/** @param {number} by @param {number} times */
async function walk(by, times) {
  const rows = [];
  let wanted = player.currentFrame;
  for (let n = 0; n < times; n += 1) {
    wanted += by;
    await player.step(by);
    rows.push([wanted, player.currentFrame, seen()]);
  }
  return rows;
}

/** Open it so that steps come from decoded pictures. @param {string} name @returns {Promise<number>} */
async function openCached(name) {
  player.setAttribute("cached", "");
  const cached = new Promise((resolve) => player.addEventListener("cached", resolve, { once: true }));
  const count = await open(name);
  await cached;
  return count;
}

/** What shows the picture of each frame stepped to: CANVAS or VIDEO. @param {number} by @param {number} times */
async function shownBy(by, times) {
  const names = [];
  for (let n = 0; n < times; n += 1) {
    await player.step(by);
    names.push(player.picture.tagName);
    await new Promise((resolve) => setTimeout(resolve, 40)); // a coach's finger, not a loop
  }
  return names;
}

/**
 * Play a stretch until it has come round `times` times; [said, seen] at every refresh of the screen.
 * @param {number} first @param {number} last @param {number} rate @param {number} times
 */
async function round(first, last, rate, times) {
  player.rate = rate;
  player.stretch = { first, last };
  await player.goTo(first);
  await player.play();
  const rows = [];
  for (let rounds = 0, before = first; rounds < times;) {
    await new Promise(requestAnimationFrame);
    const picture = seen(); // what is named may be a refresh ahead of it
    rows.push([player.currentFrame, picture]);
    if (picture < before) rounds += 1;
    before = picture;
  }
  player.pause();
  return rows;
}

/** Until a condition holds, or for so long. @param {() => boolean} holds @param {number} ms */
async function until(holds, ms) {
  for (const end = performance.now() + ms; !holds() && performance.now() < end;)
    await new Promise((resolve) => setTimeout(resolve, 20));
  return holds();
}

/**
 * Play on and pause `times` times, each time a little later; [said, seen] once all is at rest.
 * @param {number} first @param {number} times
 */
async function pauses(first, times) {
  const rows = [];
  for (let n = first; n < first + times; n += 1) {
    if (player.currentFrame > player.table.last * 0.6) await player.goTo(0);
    const from = player.currentFrame;
    void player.play();
    await until(() => player.currentFrame > from + 4 + n, 5000);
    await new Promise((resolve) => setTimeout(resolve, 7 * n));
    player.pause();
    await until(() => player.paused && seen() === player.currentFrame, 3000);
    await new Promise((resolve) => setTimeout(resolve, 300));
    rows.push([player.currentFrame, seen()]);
  }
  return rows;
}

Object.assign(window, { bench: { player, open, openCached, shownBy, visit, walk, round, pauses, seen } });
