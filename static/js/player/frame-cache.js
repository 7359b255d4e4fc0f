// @ts-check
/** What decoded pictures may take at once: 36 of 1280 by 720. */
export const CACHE_BYTES = 128 * 2 ** 20;

/** However small the pictures are, more around the playhead are not decoded at each jump. */
const MOST = 45;
/** A longer way than this is a jump, which says nothing of where the next one goes. */
const LONGEST_STRIDE = 30;
/** How many presses of the same key are looked ahead. */
const STRIDES = 6;
/** Of a stretch that plays again and again, pictures of its beginning held through its end. */
const TURN = 8;

/**
 * The frames wanted around a playhead, the most wanted first: where the same key leads next, then
 * its neighbours, two in the direction of travel for each one behind.
 * @param {{frame: number, by: number, turn: number|null, last: number, room: number}} at `by` is how
 *   the playhead came there, `turn` a frame soon gone back to, `last` the clip's last frame, `room`
 *   how many may be held
 * @returns {number[]}
 */
export function framesAround({ frame, by, turn, last, room }) {
  const reserved = turn === null ? 0 : Math.min(TURN, room >> 1);
  const most = Math.min(room, MOST);
  /** @type {Set<number>} */
  const wanted = new Set();
  const add = (/** @type {number} */ other, /** @type {number} */ upTo) => {
    if (other >= 0 && other <= last && wanted.size < upTo) wanted.add(other);
  };
  add(frame, most);
  const stride = Math.abs(by) <= LONGEST_STRIDE ? by : 0;
  if (Math.abs(stride) > 1)
    for (let press = 1; press <= STRIDES; press += 1) add(frame + press * stride, most - reserved);
  const on = stride < 0 ? -1 : 1;
  for (let near = 1; near < MOST; near += 1) {
    add(frame + on * (2 * near - 1), most - reserved);
    add(frame + on * 2 * near, most - reserved);
    add(frame - on * near, most - reserved);
  }
  for (let at = 0; at < reserved; at += 1) add(Number(turn) + at, most);
  return [...wanted];
}

/**
 * Decoded pictures by frame, never more than their bytes allow, those being made included.
 * @template {{close: () => void}} Picture
 */
export class FrameCache {
  /** @type {Map<number, Picture>} */
  #pictures = new Map();
  /** @type {Set<number>} the most wanted first */
  #wanted = new Set();
  #making = 0;

  /** @param {number} bytesEach of one picture @param {number} [limit] */
  constructor(bytesEach, limit = CACHE_BYTES) {
    this.bytesEach = bytesEach;
    this.room = Math.max(1, Math.floor(limit / bytesEach));
  }

  get bytes() {
    return (this.#pictures.size + this.#making) * this.bytesEach;
  }

  /** @param {number} frame */
  picture(frame) {
    return this.#pictures.get(frame) ?? null;
  }

  /** The most wanted frame that is not here, if any. @returns {number|null} */
  get missing() {
    for (const frame of this.#wanted) if (!this.#pictures.has(frame)) return frame;
    return null;
  }

  /** Hold these from now on, the most wanted first, and let go of the rest. @param {number[]} frames */
  want(frames) {
    this.#wanted = new Set(frames.slice(0, this.room));
    for (const [frame, picture] of this.#pictures) {
      if (this.#wanted.has(frame)) continue;
      picture.close();
      this.#pictures.delete(frame);
    }
  }

  /** Whether a picture of this frame is wanted and there is room to make it. @param {number} frame */
  hasRoomFor(frame) {
    const full = this.#pictures.size + this.#making >= this.room;
    return this.#wanted.has(frame) && !this.#pictures.has(frame) && !full;
  }

  /** @param {number} frame @param {Promise<Picture>} making */
  async keep(frame, making) {
    this.#making += 1;
    try {
      const picture = await making;
      if (this.#wanted.has(frame) && !this.#pictures.has(frame)) this.#pictures.set(frame, picture);
      else picture.close();
    } finally {
      this.#making -= 1;
    }
  }

  clear() {
    this.want([]);
  }
}
