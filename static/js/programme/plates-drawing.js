// @ts-check
const SVG = "http://www.w3.org/2000/svg";

/** @param {string} tag @param {Record<string, string|number>} facts */
function svgElement(tag, facts) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(facts)) element.setAttribute(name, String(value));
  return element;
}

/**
 * One side of the bar, the inside plate first; plates in their order of size, not to scale.
 * @param {SVGElement} svg @param {string[]} side the weights @param {string} unit
 */
export function drawPlates(svg, side, unit) {
  svg.replaceChildren();
  svg.toggleAttribute("hidden", side.length === 0);
  const whole = unit === "lb" ? 45 : 25;
  svg.append(svgElement("path", { d: "M0 24H20", class: "bar" }), svgElement("rect", { x: 16, y: 18, width: 4, height: 12, class: "collar" }));
  let x = 21;
  for (const weight of side) {
    const share = Math.min(1, Number(weight) / whole);
    const tall = 20 + 26 * Math.sqrt(share);
    const text = svgElement("text", { x: x + 11, y: 28, "text-anchor": "middle" });
    text.textContent = weight;
    svg.append(svgElement("rect", { x, y: 24 - tall / 2, width: 22, height: tall, rx: 2, class: "plate" }), text);
    x += 23;
  }
  svg.append(svgElement("path", { d: `M${x} 24H${x + 12}`, class: "bar" }));
  svg.setAttribute("viewBox", `0 0 ${x + 13} 48`);
  svg.setAttribute("width", String(x + 13));
  svg.setAttribute("height", "48");
}
