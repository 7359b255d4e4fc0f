// @ts-check
/**
 * Reads where the pictures of a playable lie in its file, for decoding them ourselves.
 * Box and field layout: ISO/IEC 14496-12 (boxes), 14496-15 (avcC). Only what our playables hold.
 *
 * @typedef {{offset: number, size: number, key: boolean, frame: number}} Sample in coding order;
 *   frame is its place in presentation order
 * @typedef {{codec: string, description: Uint8Array<ArrayBuffer>, width: number, height: number,
 *   samples: Sample[]}} Track
 */

const HEAD = 8;
const VISUAL_ENTRY = 78; // bytes of a visual sample entry before its own boxes

/** A box: where its content begins and ends. */
class Box {
  /** @param {DataView} view @param {number} start @param {number} end */
  constructor(view, start, end) {
    this.view = view;
    this.start = start;
    this.end = end;
  }

  /** @param {number} at from the start of the content @returns {number} unsigned, 32 bits */
  u32(at) {
    return this.view.getUint32(this.start + at);
  }

  /** @param {string} kind @param {number} [skip] bytes of the box's own fields @returns {Box[]} */
  all(kind, skip = 0) {
    const found = [];
    for (let at = this.start + skip; at + HEAD <= this.end;) {
      const short = this.view.getUint32(at);
      const size = short === 1 ? Number(this.view.getBigUint64(at + HEAD)) : short || this.end - at;
      if (size < HEAD || at + size > this.end) throw new RangeError("A box reaches past its end.");
      const head = short === 1 ? 2 * HEAD : HEAD;
      if (word(this.view, at + 4) === kind) found.push(new Box(this.view, at + head, at + size));
      at += size;
    }
    return found;
  }

  /** @param {...string} path @returns {Box} */
  one(...path) {
    /** @type {Box} */
    let box = this;
    for (const kind of path) {
      const [found] = box.all(kind);
      if (!found) throw new RangeError(`The file has no ${kind}.`);
      box = found;
    }
    return box;
  }
}

/** @param {DataView} view @param {number} at */
function word(view, at) {
  return String.fromCharCode(...[0, 1, 2, 3].map((i) => view.getUint8(at + i)));
}

/**
 * The part of a file that says where everything lies, without reading the rest into memory.
 * @param {Blob} file a whole playable @returns {Promise<ArrayBuffer>}
 */
export async function readMovie(file) {
  for (let at = 0; at + HEAD <= file.size;) {
    const view = new DataView(await file.slice(at, at + 2 * HEAD).arrayBuffer());
    const short = view.getUint32(0);
    const size = short === 1 ? Number(view.getBigUint64(HEAD)) : short || file.size - at;
    if (size < HEAD) throw new RangeError("A box is shorter than its head.");
    if (word(view, 4) === "moov") return file.slice(at, at + size).arrayBuffer();
    at += size;
  }
  throw new RangeError("The file has no moov.");
}

/**
 * @param {ArrayBuffer} bytes a whole playable, or its moov alone
 * @returns {Track} throws RangeError when it is not a file of our making
 */
export function readTrack(bytes) {
  const view = new DataView(bytes);
  const moov = new Box(view, 0, bytes.byteLength).one("moov");
  const media = moov.all("trak").map((trak) => trak.one("mdia"));
  const video = media.find((mdia) => word(view, mdia.one("hdlr").start + 8) === "vide");
  if (!video) throw new RangeError("The file has no video.");
  const table = video.one("minf", "stbl");
  const [entry] = table.one("stsd").all("avc1", 8);
  if (!entry) throw new RangeError("The video is not H.264.");
  const [avcC] = entry.all("avcC", VISUAL_ENTRY);
  if (!avcC) throw new RangeError("The video does not say how it was coded.");
  const description = new Uint8Array(bytes.slice(avcC.start, avcC.end));
  const hex = [...description.subarray(1, 4)].map((byte) => byte.toString(16).padStart(2, "0"));
  return {
    codec: `avc1.${hex.join("")}`,
    description,
    width: view.getUint16(entry.start + 24),
    height: view.getUint16(entry.start + 26),
    samples: samplesOf(table),
  };
}

/** @param {Box} table @returns {Sample[]} */
function samplesOf(table) {
  const sizes = sizesOf(table.one("stsz"));
  const offsets = offsetsOf(table, sizes);
  const times = timesOf(table, sizes.length);
  const order = times.map((_, at) => at).sort((a, b) => times[a] - times[b]);
  const frames = new Array(sizes.length);
  order.forEach((sample, frame) => (frames[sample] = frame));
  const [stss] = table.all("stss");
  const keys = stss ? new Set(list(stss, 4, 8)) : null; // without the box every sample is a key
  return sizes.map((size, at) => ({
    offset: offsets[at],
    size,
    key: keys ? keys.has(at + 1) : true,
    frame: frames[at],
  }));
}

/** @param {Box} box @param {number} count where the count stands @param {number} first */
function list(box, count, first) {
  return Array.from({ length: box.u32(count) }, (_, at) => box.u32(first + 4 * at));
}

/** @param {Box} stsz */
function sizesOf(stsz) {
  const same = stsz.u32(4);
  return same ? new Array(stsz.u32(8)).fill(same) : list(stsz, 8, 12);
}

/** @param {Box} table @param {number[]} sizes */
function offsetsOf(table, sizes) {
  const [co64] = table.all("co64");
  const chunks = co64
    ? Array.from({ length: co64.u32(4) }, (_, at) =>
        Number(co64.view.getBigUint64(co64.start + 8 + 8 * at)),
      )
    : list(table.one("stco"), 4, 8);
  const stsc = table.one("stsc");
  const runs = Array.from({ length: stsc.u32(4) }, (_, at) => ({
    chunk: stsc.u32(8 + 12 * at) - 1,
    samples: stsc.u32(12 + 12 * at),
  }));
  const offsets = [];
  let run = 0;
  for (let chunk = 0; chunk < chunks.length; chunk++) {
    if (run + 1 < runs.length && runs[run + 1].chunk === chunk) run++;
    let at = chunks[chunk];
    for (let i = 0; i < runs[run].samples && offsets.length < sizes.length; i++) {
      offsets.push(at);
      at += sizes[offsets.length - 1];
    }
  }
  if (offsets.length !== sizes.length) throw new RangeError("The sample tables do not agree.");
  return offsets;
}

/** Presentation time of each sample, in ticks, in coding order. @param {Box} table @param {number} count */
function timesOf(table, count) {
  const decode = expanded(table.one("stts"), (box, at) => box.u32(at));
  let clock = 0;
  const times = decode.map((delta) => (clock += delta) - delta);
  const [ctts] = table.all("ctts");
  // Version 0 is unsigned and version 1 signed; offsets this large do not occur, so signed serves.
  const shift = ctts ? expanded(ctts, (box, at) => box.view.getInt32(box.start + at)) : [];
  if (times.length !== count) throw new RangeError("The sample tables do not agree.");
  return times.map((time, at) => time + (shift[at] ?? 0));
}

/** Run lengths written out. @param {Box} box @param {(box: Box, at: number) => number} value */
function expanded(box, value) {
  const out = [];
  for (let at = 0; at < box.u32(4); at++) {
    const each = value(box, 12 + 8 * at);
    for (let i = box.u32(8 + 8 * at); i > 0; i--) out.push(each);
  }
  return out;
}

/**
 * Groups of pictures, each from a key to before the next.
 * @param {Sample[]} samples
 * @returns {Sample[][]|null} null when a group needs the one before it, so that it cannot be
 *   decoded by itself
 */
export function groupsOf(samples) {
  /** @type {Sample[][]} */
  const groups = [];
  for (const sample of samples) {
    if (sample.key) groups.push([]);
    if (!groups.length) return null;
    groups[groups.length - 1].push(sample);
  }
  // Each group shows the frames that follow on the last one's, without a gap, its key first: a
  // picture shown before its key would need the group before.
  let first = 0;
  for (const group of groups) {
    const after = first + group.length;
    const inside = group.every(({ frame }) => frame >= first && frame < after);
    if (!inside || group[0].frame !== first) return null;
    first = after;
  }
  return groups;
}
