// @ts-check
/** Collects the names that our custom elements give to their fields, methods and accessors. */

/** @type {[string, CustomElementConstructor][]} */
const defined = [];
const define = customElements.define.bind(customElements);
customElements.define = (name, element) => {
  defined.push([name, element]);
  define(name, element);
};

/** Names given in a method, without being declared. @param {Function} element */
function assigned(element) {
  const found = String(element).matchAll(/\bthis\.([\w$]+)\s*(?:\?\?|\|\||&&|\+|-)?=(?![=>])/g);
  return [...found].map(([, name]) => name);
}

/** @param {Function} element all that it and what it is made from declare, down to HTMLElement */
function declared(element) {
  const names = [];
  for (let one = element; one !== HTMLElement; one = Object.getPrototypeOf(one)) {
    names.push(...Object.getOwnPropertyNames(one.prototype), ...assigned(one));
  }
  return names;
}

/** @param {string[]} modules @returns {Promise<{elements: string[], collisions: string[]}>} */
async function collisions(modules) {
  const plain = document.createElement("b"); // HTMLElement itself, and nothing of its own
  for (const address of modules) await import(address);
  const found = defined.flatMap(([name, element]) =>
    [...declared(element), ...Object.getOwnPropertyNames(document.createElement(name))]
      .filter((field) => field !== "constructor" && field in plain)
      .map((field) => `${name}.${field}`),
  );
  return { elements: defined.map(([name]) => name), collisions: [...new Set(found)].sort() };
}

Object.assign(window, { names: { collisions } });
