(least) => {
  // Pieces of text and controls that can be seen, each with the element it belongs to.
  const boxesOf = () => {
  const shown = (element) => {
    if (!element.checkVisibility({ visibilityProperty: true, opacityProperty: true, contentVisibilityAuto: true })) return false;
    for (let at = element; at; at = at.parentElement) if (getComputedStyle(at).clipPath !== "none") return false;
    return true;
  };
  const cut = (box, element) => {
    let { left, top, right, bottom } = box;
    for (let at = element; at && at !== document.body; at = at.parentElement) {
      if (getComputedStyle(at).overflow === "visible") continue;
      const by = at.getBoundingClientRect();
      [left, top] = [Math.max(left, by.left), Math.max(top, by.top)];
      [right, bottom] = [Math.min(right, by.right), Math.min(bottom, by.bottom)];
    }
    return { left, top, right, bottom };
  };
  const boxes = [];
  const put = (words, element, whole, lines) => {
    const { left, top, right, bottom } = cut(whole, element);
    if (right - left < 2 || bottom - top < 2 || right <= 0) return;
    boxes.push({ words: words.trim().slice(0, 40), element, box: [left, top, right, bottom], lines });
  };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const holder = node.parentElement;
    if (!node.data.trim() || holder.closest("script, style, template, noscript, option, svg") || !shown(holder)) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const size = parseFloat(getComputedStyle(holder).fontSize);
    for (const line of range.getClientRects()) {
      // The ink of a line, not its leading: neighbouring lines may share some of that.
      const spare = Math.max(0, (line.bottom - line.top - size) / 2);
      put(node.data, holder, { left: line.left, right: line.right, top: line.top + spare, bottom: line.bottom - spare }, true);
    }
  }
  for (const control of document.querySelectorAll("button, select, textarea, input:not([type=hidden], [type=radio], [type=checkbox], [type=file]), a.btn, label.btn"))
    if (shown(control)) put(control.getAttribute("aria-label") || control.textContent || control.id, control, control.getBoundingClientRect(), false);
  return boxes;
};
  const overlaps = () => {
    const boxes = boxesOf();
  const found = [];
  boxes.forEach((one, at) => boxes.slice(at + 1).forEach((two) => {
    if (one.element.contains(two.element) || two.element.contains(one.element)) return;
    // A line laid over the whole of a button, as the button's own name, belongs to it.
    const label = one.element.closest("label"); if (label && label.contains(two.element)) return;
    // A unit stands in its field, in the room that is kept for it at the end.
    const unit = one.element.closest(".withunit > .u");
    if (unit && unit.getBoundingClientRect().left >= two.box[2] - parseFloat(getComputedStyle(two.element).paddingRight)) return;
    const width = Math.min(one.box[2], two.box[2]) - Math.max(one.box[0], two.box[0]);
    const height = Math.min(one.box[3], two.box[3]) - Math.max(one.box[1], two.box[1]);
    if (width > 1 && height > 1) found.push(`“${one.words}” and “${two.words}” by ${Math.round(width)} × ${Math.round(height)} px`);
  }));
  return found;
  };
  // The text of a control, beyond the control's own edges.
  const spills = () => [...document.querySelectorAll("button, .btn, select")].filter((control) =>
  control.checkVisibility() && getComputedStyle(control).clipPath === "none" && control.scrollWidth > control.clientWidth + 1
).map((control) => `“${(control.getAttribute("aria-label") || control.textContent).trim().slice(0, 40)}” needs ${control.scrollWidth} px and has ${control.clientWidth}`);
  // What is tapped. A link inside a sentence is exempt (WCAG 2.2, 2.5.5, "inline").
  const small = (least) => {
  const inline = (link) => [...link.parentElement.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
  const small = [];
  for (const target of document.querySelectorAll("a[href], button, summary, select, textarea, input:not([type=hidden])")) {
    if (!target.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true })) continue;
    if (target.matches(".skip") || (target.matches("a") && inline(target))) continue;
    const tapped = target.matches("input[type=radio], input[type=checkbox], input[type=file]") ? target.closest("label") ?? target : target;
    const typed = target.closest("label.typed"); // a tap anywhere beside the number goes into it
    const { width, height } = (typed ?? tapped).getBoundingClientRect();
    if (width < least - 0.5 || height < least - 0.5)
      small.push(`“${(target.getAttribute("aria-label") || tapped.textContent || target.id).trim().slice(0, 40)}” is ${Math.round(width)} × ${Math.round(height)} px`);
  }
  return small;
};
  const root = document.documentElement;
  const usual = small(least).map((fault) => `at the usual size: ${fault}`);
  root.style.fontSize = "200%";
  const sideways = root.scrollWidth > root.clientWidth ? ["it scrolls sideways"] : [];
  return [...usual, ...overlaps(), ...spills(), ...small(least), ...sideways];
}
