// Every piece of text that can be seen, and the box that is left of it.
() => {
  const cut = (box, by) => ({ left: Math.max(box.left, by.left), top: Math.max(box.top, by.top),
    right: Math.min(box.right, by.right), bottom: Math.min(box.bottom, by.bottom) });
  const seen = (element, box) => {
    if (!element.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true }) || box.right < 0) return null;
    for (let at = element; at; at = at.parentElement) {
      const style = getComputedStyle(at);
      if (style.opacity === "0" || style.clipPath !== "none") return null;
      if (style.overflow !== "visible" && at !== document.body && at !== document.documentElement)
        box = cut(box, at.getBoundingClientRect());
    }
    return box.right - box.left > 4 && box.bottom - box.top > 4 ? box : null;
  };
  const texts = [];
  const put = (words, element, box) => {
    const shown = seen(element, box);
    // Of what is scrolled half out of sight the letters may not be in the half that is left.
    if (!shown || shown.bottom - shown.top < 0.8 * (box.bottom - box.top)) return;
    const { left, top, right, bottom } = shown;
    texts.push({ words: words.trim().slice(0, 40), box: [left + scrollX, top + scrollY, right + scrollX, bottom + scrollY] });
  };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    if (!/[\p{L}\p{N}]/u.test(node.data) || node.parentElement.closest("script, style, template, noscript, option")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) put(node.data, node.parentElement, box);
  }
  for (const field of document.querySelectorAll("input:not([type=radio], [type=checkbox], [type=file], [type=hidden]), textarea, select"))
    if (field.value.trim()) put(field.value, field, field.getBoundingClientRect());
  return texts;
}
