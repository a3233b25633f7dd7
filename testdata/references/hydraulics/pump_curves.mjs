// Shows how EPANET treats pump curves: 1 point, 3 points from Q=0, 3 points not from 0, 4 collinear-augmented points.
import { Project, Workspace, LinkProperty } from "epanet-js";
const ws = new Workspace();
await ws.loadModule();
function run(pts, st) {
  ws.writeFile(
    "a.inp",
    `[RESERVOIRS]\nW 0\nT ${st}\n[JUNCTIONS]\nA 0 0\n[PUMPS]\nPU W A HEAD C\n[CURVES]\n${pts.map(([q, h]) => `C ${q} ${h}`).join("\n")}\n[PIPES]\nP A T 200 2.469 140 7.5 CV\n[OPTIONS]\nUNITS GPM\nHEADLOSS H-W\nACCURACY 0.00001\nTRIALS 500\n[TIMES]\nDURATION 0\n[END]\n`,
  );
  const m = new Project(ws);
  m.open("a.inp", "r", "o");
  const i = m.getLinkIndex("PU");
  m.openH();
  m.initH(10);
  m.runH();
  const type = m.getPumpType(i);
  const r = [m.getLinkValue(i, LinkProperty.Flow), -m.getLinkValue(i, LinkProperty.Headloss)];
  m.closeH();
  m.close();
  return { type, q: r[0].toFixed(4), h: r[1].toFixed(4) };
}
console.log(
  "3pt from 0 (type 1=power func)",
  run(
    [
      [0, 40],
      [40, 33],
      [80, 14],
    ],
    15,
  ),
);
console.log(
  "4pt collinear (type 2=custom/linear)",
  run(
    [
      [0, 40],
      [20, 36.5],
      [40, 33],
      [80, 14],
    ],
    15,
  ),
);
console.log(
  "3pt not from 0",
  run(
    [
      [5, 39.125],
      [40, 33],
      [80, 14],
    ],
    15,
  ),
);
console.log("1pt", run([[40, 33]], 15));
console.log(
  "extrapolated past last point",
  run(
    [
      [0, 40],
      [20, 36.5],
      [40, 33],
      [45, 30],
    ],
    15,
  ),
);
