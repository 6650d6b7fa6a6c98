import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DISTANCE, EXACT_FIELD, FOCAL, type Grade, OUTER_XI, type PeerRun, TIP_ETA } from './gap.ts';

export const GMSH = 'gmsh';
export const GETDP = 'getdp';
/** Points of the curves that gmsh runs a spline through; enough that the curve itself is right to 1e-6 at the tip. */
const SPLINE_POINTS = 300;
const CROWD = 6;

/** Curved quadratic triangles; the field is the gradient in the triangle at the apex. */
export function runGetdp(folder: string, grade: Grade): PeerRun | string {
  const side = FOCAL * Math.sqrt(1 - TIP_ETA * TIP_ETA);
  const end = Math.acosh(OUTER_XI);
  const wide = FOCAL * Math.sqrt(OUTER_XI * OUTER_XI - 1);
  const points: string[] = [];
  const add = (r: number, z: number): number => points.push(`Point(${points.length + 1})={${r},${z},0};`);
  const origin = add(0, 0);
  const corner = add(wide, 0);
  const outer = [corner];
  const turn = Math.asin(TIP_ETA);
  for (let k = 1; k <= SPLINE_POINTS; k++) {
    const t = (turn * k) / SPLINE_POINTS;
    outer.push(add(wide * Math.cos(t), FOCAL * OUTER_XI * Math.sin(t)));
  }
  const wall = [outer.at(-1)!];
  for (let k = SPLINE_POINTS - 1; k >= 0; k--) {
    const u = (end * Math.sinh((CROWD * k) / SPLINE_POINTS)) / Math.sinh(CROWD);
    wall.push(add(side * Math.sinh(u), DISTANCE * Math.cosh(u)));
  }
  const geo = join(folder, 'gap.geo');
  const mesh = join(folder, 'gap.msh');
  const pro = join(folder, 'gap.pro');
  const answer = join(folder, 'apex.txt');
  writeFileSync(
    geo,
    `${points.join('\n')}
Line(1)={${origin},${corner}};
Spline(2)={${outer.join(',')}};
Spline(3)={${wall.join(',')}};
Line(4)={${wall.at(-1)},${origin}};
Curve Loop(1)={1,2,3,4};
Plane Surface(1)={1};
Physical Curve(2)={1};
Physical Curve(1)={3};
Physical Surface(10)={1};
Mesh.MeshSizeExtendFromBoundary=0;
Mesh.MeshSizeFromPoints=0;
Field[1]=MathEval;
Field[1].F="${grade.fineness}*(${grade.core}+Sqrt(x^2+(y-${DISTANCE})^2))";
Background Field=1;
Mesh.ElementOrder=2;
Mesh.MshFileVersion=2.2;
`,
  );
  writeFileSync(
    pro,
    `Group { Tip=Region[1]; Plane=Region[2]; Gap=Region[10]; All0=Region[{1,2,10}]; }
Constraint { { Name V; Case { { Region Tip; Value 1; } { Region Plane; Value 0; } } } }
Jacobian { { Name Vol; Case { { Region All; Jacobian VolAxi; } } } }
Integration { { Name I; Case { { Type Gauss; Case { { GeoElement Triangle2; NumberOfPoints 7; } { GeoElement Triangle; NumberOfPoints 7; } } } } } }
FunctionSpace { { Name H; Type Form0; BasisFunction { { Name s; NameOfCoef c; Function BF_Node; Support All0; Entity NodesOf[All]; } }
  Constraint { { NameOfCoef c; EntityType NodesOf; NameOfConstraint V; } } } }
Formulation { { Name F; Type FemEquation; Quantity { { Name v; Type Local; NameOfSpace H; } }
  Equation { Galerkin { [ Dof{d v}, {d v} ]; In Gap; Jacobian Vol; Integration I; } } } }
Resolution { { Name R; System { { Name A; NameOfFormulation F; } } Operation { Generate[A]; Solve[A]; SaveSolution[A]; } } }
PostProcessing { { Name P; NameOfFormulation F; Quantity { { Name e; Value { Term { [ -{d v} ]; In Gap; Jacobian Vol; } } } } } }
PostOperation { { Name O; NameOfPostProcessing P; Operation { Print[e, OnPoint{0, ${DISTANCE * (1 - 1e-9)}, 0}, Format Table, File "${answer}"]; } } }
`,
  );
  const start = performance.now();
  const meshed = spawnSync(GMSH, ['-2', '-v', '1', geo, '-o', mesh], { encoding: 'utf8' });
  const solved = spawnSync(GETDP, [pro, '-msh', mesh, '-solve', 'R', '-pos', 'O', '-v', '5'], {
    encoding: 'utf8',
  });
  const cold = performance.now() - start;
  // The clock is told at the start, after pre-processing, after processing (assembly and solution), after post-processing.
  const clock = [...solved.stdout.matchAll(/\(.*Wall = ([\d.]+)s/g)].map((m) => Number(m[1]));
  const unknowns = Number(/: (\d+) Dofs/.exec(solved.stdout)?.[1]);
  const [before, after] = [clock[1], clock[2]];
  if (meshed.status !== 0 || solved.status !== 0 || before === undefined || after === undefined)
    return `gmsh and getdp gave no result: ${(meshed.stderr + solved.stderr).trim().split('\n').at(-1)}`;
  const field = Number(readFileSync(answer, 'utf8').trim().split(/\s+/).at(-2));
  return {
    program: 'gmsh + getdp, curved P2',
    unknowns,
    error: Math.abs(field) / EXACT_FIELD - 1,
    cold,
    solve: 1000 * (after - before),
  };
}
