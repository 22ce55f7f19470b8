/** Where everything of the hydraulic diagram stands: a wide arrangement and one for a phone. Pure geometry, no elements. */

const range = (n) => Array.from({ length: n }, (_, i) => i);
const spread = (n, gap) => range(n).map((i) => (i - (n - 1) / 2) * gap);

/** An instrument's tag: the circle at (bx, by), a thin line to where it measures, its text beside it. */
function tag(points, point, letters, title, [bx, by], [px, py], side = 'right') {
  return points.has(point) ? [{ point, letters, title, at: [bx, by, px, py], x: side === 'right' ? bx + 17 : bx - 17, y: by - 3, anchor: side === 'right' ? 'start' : 'end' }] : [];
}

/** Only a value, without a circle; a doubt about it is said below it or beside it. */
const value = (points, point, x, y, doubt = 'below', anchor = 'middle') => (points.has(point) ? [{ point, x, y, doubt, anchor, small: true }] : []);

/** A line from left to right that hops over another at x = over. */
const hop = (y, from, over, to) => `M${from} ${y}H${over - 5}a5 5 0 0 1 10 0H${to}`;
/** A line from top to bottom that hops over another at y = over. */
const hopDown = (x, from, over, to) => `M${x} ${from}V${over - 5}a5 5 0 0 1 0 10V${to}`;

export function wideLayout(nameplate, points) {
  const { pumps, exchangers, filters } = nameplate;
  const top = 92;
  const cell = exchangers === 1 ? 130 : exchangers === 2 ? 84 : 62;
  const bankTop = top + 44;
  const cells = range(exchangers).map((n) => bankTop + cell / 2 + n * (cell + 16));
  const bankBottom = cells[cells.length - 1] + cell / 2;
  const pumpHalf = (pumps - 1) * 46;
  const filterHalf = (filters - 1) * 27;
  const tank = Math.max(124, pumpHalf + 84);
  const bottom = Math.max(bankBottom + 36, top + tank + 62, top + Math.max(pumpHalf, filterHalf) + 78);
  const height = bottom + Math.max(122, pumpHalf + 74, filterHalf + 40);
  const middle = (top + bottom) / 2;
  const last = exchangers - 1;
  const pumpY = spread(pumps, 92).map((y) => bottom + y);
  const filterY = spread(filters, 54).map((y) => bottom + y);
  return {
    width: 1084,
    height,
    pipes: [
      { side: 'fws', d: `M20 ${bottom}H242V${cells[0] + cell / 4}` },
      { side: 'fws', d: `M216 ${cells[last] - cell / 4}V${top}H20` },
      ...cells.map((y, n) => ({ side: 'fws', d: `M242 ${y + cell / 4}H270${n === 0 ? `M216 ${y - cell / 4}H270` : hop(y - cell / 4, 216, 242, 270)}` })),
      { side: 'tcs', d: `M1064 ${top}H514V${cells[last] - cell / 4}` },
      { side: 'tcs', d: `M488 ${cells[0] + cell / 4}V${bottom}H590` },
      ...cells.map((y, n) => ({ side: 'tcs', d: `M460 ${y + cell / 4}H488${n === 0 ? `M460 ${y - cell / 4}H514` : hop(y - cell / 4, 460, 488, 514)}` })),
      ...pumpY.map((y) => ({ side: 'tcs', d: `M590 ${bottom}V${y}H690V${bottom}` })),
      { side: 'tcs', d: `M690 ${bottom}H${filters ? 718 : 1064}` },
      ...filterY.map((y) => ({ side: 'tcs', d: `M718 ${bottom}V${y}H828V${bottom}` })),
      ...(filters ? [{ side: 'tcs', d: `M828 ${bottom}H1064` }] : []),
      { side: 'tcs', d: `M556 ${bottom - tank + 30}V${bottom}` },
    ],
    arrows: [
      { side: 'fws', x: 120, y: bottom, turn: 0 }, { side: 'fws', x: 110, y: top, turn: 180 },
      { side: 'tcs', x: 700, y: top, turn: 180 }, { side: 'tcs', x: 1046, y: bottom, turn: 0 }, { side: 'tcs', x: 526, y: bottom, turn: 0 },
    ],
    symbols: [
      ...cells.map((y, n) => ({ id: `exchanger.${n + 1}`, kind: 'exchanger', x: 365, y, w: 190, h: cell })),
      { id: 'valve', kind: 'valve', x: 190, y: top },
      ...(points.has('fws.strainer.dp') ? [{ id: 'strainer', kind: 'filter', x: 196, y: bottom }] : []),
      ...pumpY.map((y, n) => ({ id: `pump.${n + 1}`, kind: 'pump', x: 640, y })),
      ...filterY.map((y, n) => ({ id: `filter.${n + 1}`, kind: 'filter', x: 773, y })),
      { id: 'reservoir', kind: 'reservoir', x: 556, y: bottom - tank },
      ...(points.has('tray.wet') ? [{ id: 'tray', kind: 'tray', x: 365, y: bottom + 46, w: 190 }] : []),
    ],
    notes: [
      { id: 'ua', x: 365, y: bankTop - 26 }, { id: 'approach', x: 365, y: bankTop - 8 },
      ...cells.map((y, n) => ({ id: `exchanger.${n + 1}`, x: 365, y: y + 4, text: String(n + 1) })),
      ...pumpY.map((y, n) => ({ id: `pump.${n + 1}`, x: 640, y: y + 33, text: `pump ${n + 1}` })),
      ...(filters ? [{ id: 'filters', x: 773, y: filterY[0] - 40, text: filters === 1 ? 'filter' : 'filters 1 … ' + filters }] : []),
      ...(points.has('tray.wet') ? [{ id: 'tray', x: 365, y: bottom + 70 }] : []),
    ],
    words: [
      { x: 20, y: top + 18, text: 'facility water, return', side: 'fws' }, { x: 20, y: bottom - 10, text: 'facility water, supply', side: 'fws' },
      { x: 1064, y: top + 18, text: 'from the racks', side: 'tcs', anchor: 'end' }, { x: 1064, y: bottom - 10, text: 'to the racks', side: 'tcs', anchor: 'end' },
    ],
    tags: [
      ...tag(points, 'fws.return.temperature', 'TT', 'return', [40, top - 44], [40, top]),
      ...tag(points, 'fws.valve.position', 'ZT', 'valve open', [190, top - 58], [190, top - 26]),
      ...tag(points, 'fws.supply.temperature', 'TT', 'supply', [40, bottom + 44], [40, bottom]),
      ...tag(points, 'fws.flow', 'FT', 'flow', [160, bottom + 44], [160, bottom]),
      ...tag(points, 'fws.strainer.dp', 'PDT', 'strainer', [196, bottom - 52], [196, bottom - 12], 'left'),
      ...tag(points, 'fws.dp', 'PDT', 'facility Δp', [40, middle - 24], [40, top]),
      ...tag(points, 'tcs.return.temperature', 'TT', 'return', [560, top - 44], [560, top]),
      ...tag(points, 'tcs.return.flow', 'FT', 'flow', [690, top - 44], [690, top]),
      ...tag(points, 'tcs.return.pressure', 'PT', 'pressure', [820, top - 44], [820, top]),
      ...tag(points, 'reservoir.level', 'LT', 'reservoir', [605, bottom - tank - 14], [580, bottom - tank - 14]),
      ...tag(points, 'tcs.flow', 'FT', 'flow', [858, bottom - 52], [858, bottom]),
      ...tag(points, 'tcs.supply.temperature', 'TT', 'supply', [858, bottom + 44], [858, bottom]),
      ...tag(points, 'tcs.supply.pressure', 'PT', 'pressure', [972, bottom + 44], [972, bottom]),
      ...tag(points, 'tcs.dp', 'PDT', 'loop Δp', [1010, middle - 20], [1010, top], 'left'),
      ...cells.flatMap((y, n) => [...value(points, `exchanger.${n + 1}.fws.dp`, 312, y + 4), ...value(points, `exchanger.${n + 1}.tcs.dp`, 418, y + 4)]),
      ...pumpY.flatMap((y, n) => value(points, `pump.${n + 1}.speed`, 640, y + 50)),
      ...filterY.flatMap((y, n) => value(points, `tcs.filter.${n + 1}.dp`, 773, y - 16, 'beside')),
    ],
    lines: [
      ...(points.has('fws.dp') ? [`M40 ${middle - 24}V${bottom}`] : []),
      ...(points.has('tcs.dp') ? [`M1010 ${middle - 20}V${bottom}`] : []),
    ],
  };
}

/** The same, turned: facility water above, racks below. */
export function narrowLayout(nameplate, points) {
  const { pumps, exchangers, filters } = nameplate;
  const left = 44;
  const cell = exchangers === 1 ? 110 : exchangers === 2 ? 60 : 44;
  const bankLeft = 92;
  const cells = range(exchangers).map((n) => bankLeft + cell / 2 + n * (cell + 12));
  const bankRight = cells[exchangers - 1] + cell / 2;
  const pumpX = spread(pumps, 96);
  const filterX = spread(filters, 60);
  const right = Math.max(bankRight + 24, bankLeft + 40 + Math.max(24, -(filterX[0] ?? 0), -pumpX[0]));
  const width = Math.max(380, right + Math.max(134, (filterX[filters - 1] ?? 0) + 68, pumpX[pumps - 1] + 92));
  const bank = 268;
  const last = exchangers - 1;
  const pumpY = 520;
  const filterY = pumpY + 136;
  const end = filterY + (filters ? 186 : 100);
  const tankX = left + 42;
  return {
    width,
    height: end + 26,
    pipes: [
      { side: 'fws', d: `M${right} 24V190H${cells[0] + cell / 4}` },
      { side: 'fws', d: `M${cells[last] - cell / 4} 164H${left}V24` },
      ...cells.map((x, n) => ({ side: 'fws', d: `M${x + cell / 4} 190V216${n === 0 ? `M${x - cell / 4} 164V216` : hopDown(x - cell / 4, 164, 190, 216)}` })),
      { side: 'tcs', d: `M${left} ${end}V372H${cells[last] - cell / 4}` },
      { side: 'tcs', d: `M${cells[0] + cell / 4} 346H${right}V${pumpY - 50}` },
      ...cells.map((x, n) => ({ side: 'tcs', d: `M${x + cell / 4} 320V346${n === 0 ? `M${x - cell / 4} 320V372` : hopDown(x - cell / 4, 320, 346, 372)}` })),
      ...pumpX.map((dx) => ({ side: 'tcs', d: `M${right} ${pumpY - 50}H${right + dx}V${pumpY + 66}H${right}` })),
      { side: 'tcs', d: `M${right} ${pumpY + 66}V${filters ? filterY - 46 : end}` },
      ...filterX.map((dx) => ({ side: 'tcs', d: `M${right} ${filterY - 46}H${right + dx}V${filterY + 56}H${right}` })),
      ...(filters ? [{ side: 'tcs', d: `M${right} ${filterY + 56}V${end}` }] : []),
      { side: 'tcs', d: `M${tankX + 24} ${pumpY - 72}H${right}` },
    ],
    arrows: [
      { side: 'fws', x: right, y: 146, turn: 90 }, { side: 'fws', x: left, y: 40, turn: -90 },
      { side: 'tcs', x: left, y: filterY - 20, turn: -90 }, { side: 'tcs', x: right, y: end - 14, turn: 90 },
    ],
    symbols: [
      ...cells.map((x, n) => ({ id: `exchanger.${n + 1}`, kind: 'exchanger', x, y: bank, w: cell, h: 104 })),
      { id: 'valve', kind: 'valveTurned', x: left, y: 122 },
      ...(points.has('fws.strainer.dp') ? [{ id: 'strainer', kind: 'filter', turned: true, x: right, y: 112 }] : []),
      ...pumpX.map((dx, n) => ({ id: `pump.${n + 1}`, kind: 'pump', direction: 'down', x: right + dx, y: pumpY - 14 })),
      ...filterX.map((dx, n) => ({ id: `filter.${n + 1}`, kind: 'filter', turned: true, x: right + dx, y: filterY - 14 })),
      { id: 'reservoir', kind: 'reservoir', x: tankX, y: pumpY - 72 },
    ],
    notes: [
      { id: 'ua', x: bankLeft, y: 142, anchor: 'start' },
      { id: 'approach', x: (bankLeft + bankRight) / 2, y: 397 },
      ...cells.map((x, n) => ({ id: `exchanger.${n + 1}`, x, y: bank + 4, text: String(n + 1) })),
      ...pumpX.map((dx, n) => ({ id: `pump.${n + 1}`, x: right + dx + 8, y: pumpY + 22, anchor: 'start', text: `pump ${n + 1}` })),
      ...(points.has('tray.wet') ? [{ id: 'tray', x: left + 14, y: filterY + 4, anchor: 'start' }] : []),
    ],
    words: [
      { x: left, y: 14, text: 'facility return', side: 'fws', anchor: 'middle' }, { x: right, y: 14, text: 'facility supply', side: 'fws', anchor: 'middle' },
      { x: left, y: end + 18, text: 'from racks', side: 'tcs', anchor: 'middle' }, { x: right, y: end + 18, text: 'to racks', side: 'tcs', anchor: 'middle' },
    ],
    tags: [
      ...tag(points, 'fws.return.temperature', 'TT', 'return', [left + 34, 58], [left, 58]),
      ...tag(points, 'fws.valve.position', 'ZT', 'valve', [left + 54, 114], [left + 26, 122]),
      ...tag(points, 'fws.supply.temperature', 'TT', 'supply', [right + 34, 44], [right, 44]),
      ...tag(points, 'fws.strainer.dp', 'PDT', 'strainer', [right + 34, 112], [right + 12, 112]),
      ...tag(points, 'fws.flow', 'FT', 'flow', [right + 34, 172], [right, 172]),
      ...tag(points, 'reservoir.level', 'LT', 'reservoir', [tankX + 46, pumpY - 94], [tankX + 24, pumpY - 94]),
      ...tag(points, 'tcs.return.temperature', 'TT', 'return', [left + 30, end - 26], [left, end - 26]),
      ...tag(points, 'tcs.flow', 'FT', 'flow', [right + 34, filterY + 82], [right, filterY + 82]),
      ...tag(points, 'tcs.supply.temperature', 'TT', 'supply', [right + 34, filterY + 132], [right, filterY + 132]),
      ...tag(points, 'tcs.dp', 'PDT', 'loop Δp', [left + 30, filterY + 74], [left, filterY + 74]),
      ...pumpX.flatMap((dx, n) => value(points, `pump.${n + 1}.speed`, right + dx + 8, pumpY + 40, 'below', 'start')),
      ...filterX.flatMap((dx, n) => value(points, `tcs.filter.${n + 1}.dp`, right + dx + 5, filterY + 28, 'below', 'start')),
    ],
    lines: [],
  };
}
