// @ts-check
/** The pain block: a warning sign shows the caution at once, from the page itself. */
export const Pain = {
  /** @param {Element} block */
  draw(block) {
    const hurts = Boolean(block.querySelector("[name=hurts][value=yes]:checked"));
    const sign = hurts && Boolean(block.querySelector("[name=sign]:checked"));
    show(block, "[data-hurts]", hurts);
    show(block, '[data-caution="pain"]', hurts && !sign);
    show(block, "[data-may-ask]", sign);
    const place = /** @type {HTMLElement} */ (block.querySelector('[data-caution="sign"]'));
    const shown = place.childElementCount > 0;
    if (sign && !shown) {
      // Put in, not unhidden: that is what makes a screen reader say it.
      const text = /** @type {HTMLTemplateElement} */ (block.querySelector("[data-caution-text]"));
      place.replaceChildren(text.content.cloneNode(true));
      // Under the sign itself: at the list's end it might be below the window.
      block.querySelector("[name=sign]:checked")?.closest("label")?.after(place);
    } else if (!sign && shown) {
      place.replaceChildren();
    }
  },
};

/** @param {Element} block @param {string} which @param {boolean} shown */
function show(block, which, shown) {
  /** @type {HTMLElement} */ (block.querySelector(which)).hidden = !shown;
}
