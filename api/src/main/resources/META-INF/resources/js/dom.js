/** Small helpers to make elements. Text only ever enters a page as text nodes, never as markup. */

const SVG = 'http://www.w3.org/2000/svg';

function build(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (typeof value === 'function') node.addEventListener(name.slice(2), value);
    else node.setAttribute(name, value === true ? '' : value);
  }
  node.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return node;
}

export function h(tag, attributes, ...children) {
  return build(document.createElement(tag), attributes, children);
}

export function svg(tag, attributes, ...children) {
  return build(document.createElementNS(SVG, tag), attributes, children);
}

/** Sets text only when it differs, so that an unchanged cell costs nothing and keeps a reader's selection. */
export function setText(node, text) {
  const wanted = text ?? '';
  if (node.textContent !== wanted) node.textContent = wanted;
}

export function setAttribute(node, name, value) {
  if (value === null || value === undefined) {
    if (node.hasAttribute(name)) node.removeAttribute(name);
  } else if (node.getAttribute(name) !== String(value)) {
    node.setAttribute(name, value);
  }
}

/** Replaces what a node holds when the key differs from the last one: for small drawings that rarely change. */
export function setDrawing(node, key, draw) {
  if (node.drawingKey === key) return;
  node.drawingKey = key;
  node.replaceChildren(draw());
}

export const byId = (id) => document.getElementById(id);
