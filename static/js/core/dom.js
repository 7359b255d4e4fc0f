// @ts-check
/**
 * Build an element. Text goes in as text, never as markup.
 * @param {string} tag "button.btn.primary": a tag and its classes
 * @param {Record<string, any>} [facts] on*: listener; true/false: boolean attribute; rest: attributes
 * @param {...(Node|string|null|undefined|false)} inside
 * @returns {HTMLElement}
 */
export function h(tag, facts = {}, ...inside) {
  const [name, ...classes] = tag.split(".");
  const element = document.createElement(name);
  if (classes.length) element.className = classes.join(" ");
  for (const [fact, value] of Object.entries(facts)) {
    if (fact.startsWith("on")) element.addEventListener(fact.slice(2), value);
    else if (value === true) element.setAttribute(fact, "");
    else if (value !== false && value !== null && value !== undefined)
      element.setAttribute(fact, value);
  }
  element.append(...inside.filter((part) => part !== null && part !== undefined && part !== false));
  return element;
}

/** The house's shapes: status is a shape and a word, colour comes third. */
const SHAPES = {
  standard: '<circle cx="8" cy="8" r="6" fill="currentColor"/>',
  "not-standard":
    '<path d="M3 3l10 10M13 3L3 13" stroke="currentColor" stroke-width="2.6" stroke-linecap="round"/>',
  "cannot-tell":
    '<circle cx="8" cy="8" r="5.6" fill="none" stroke="currentColor" stroke-width="2" stroke-dasharray="3 2.6"/>',
  back: '<path d="M10.5 3 5.5 8l5 5" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"/>',
  on: '<path d="M5.5 3l5 5-5 5" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"/>',
  up: '<path d="M3 10.5 8 5.5l5 5" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"/>',
  down: '<path d="M3 5.5l5 5 5-5" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"/>',
  play: '<path d="M4 2.5v11l9.5-5.5z" fill="currentColor"/>',
  pause: '<path d="M4 3h3v10H4zM9 3h3v10H9z" fill="currentColor"/>',
  pain: '<path d="M8 .8 15.2 8 8 15.2.8 8Z" fill="currentColor"/><path d="M8 4.4v4.2" stroke="var(--surface)" stroke-width="1.8" stroke-linecap="round"/><circle cx="8" cy="11.1" r="1.1" fill="var(--surface)"/>',
  attention:
    '<path d="M8 1.8 15 14H1Z" fill="none" stroke="currentColor" stroke-width="1.8" stroke-linejoin="round"/><path d="M8 6.2v3.6M8 11.8v.2" stroke="currentColor" stroke-width="1.8" stroke-linecap="round"/>',
};

/** @param {keyof typeof SHAPES|string} name @returns {SVGSVGElement} */
export function shape(name) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("viewBox", "0 0 16 16");
  svg.setAttribute("aria-hidden", "true");
  svg.innerHTML = SHAPES[/** @type {keyof typeof SHAPES} */ (name)];
  return svg;
}

/**
 * Make the children of `parent` follow `items`, keeping the element of each key where it stands,
 * so that a field being typed in keeps its focus. `draw` brings an element up to date.
 * @template T
 * @param {HTMLElement} parent @param {T[]} items @param {(item: T) => string} keyOf
 * @param {() => HTMLElement} make @param {(element: HTMLElement, item: T, at: number) => void} draw
 */
export function follow(parent, items, keyOf, make, draw) {
  const old = new Map(
    [...parent.children].map((child) => [/** @type {HTMLElement} */ (child).dataset.key, child]),
  );
  items.forEach((item, at) => {
    const key = keyOf(item);
    const element = /** @type {HTMLElement} */ (old.get(key) ?? make());
    old.delete(key);
    element.dataset.key = key;
    if (parent.children[at] !== element) parent.insertBefore(element, parent.children[at] ?? null);
    draw(element, item, at);
  });
  for (const gone of old.values()) gone.remove();
}
