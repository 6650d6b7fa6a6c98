import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DISTANCE, EXACT_FIELD, FOCAL, type Grade, graded, OUTER_XI, type PeerRun, TIP_ETA } from './gap.ts';

export const FREEFEM = 'FreeFem++';

/** Quadratic elements on triangles graded to the tip by hand; the field is the gradient in the triangle at the apex. */
export function runFreefem(folder: string, grade: Grade): PeerRun | string {
  const side = FOCAL * Math.sqrt(1 - TIP_ETA * TIP_ETA);
  const end = Math.acosh(OUTER_XI);
  const wall = graded(end, { ...grade, core: grade.core / side });
  const axis = graded(DISTANCE, grade);
  const wide = FOCAL * Math.sqrt(OUTER_XI * OUTER_XI - 1);
  const file = join(folder, 'gap.edp');
  writeFileSync(
    file,
    `border plane(t=0, 1){x=${wide}*t; y=0; label=2;}
border outer(t=0, asin(${TIP_ETA})){x=${wide}*cos(t); y=${FOCAL * OUTER_XI}*sin(t); label=3;}
border tip(t=1, 0){real u=${end}*sinh(${wall.k}*t)/sinh(${wall.k}); x=${side}*sinh(u); y=${DISTANCE}*cosh(u); label=1;}
border axis(t=0, 1){x=0; y=${DISTANCE}*(1-sinh(${axis.k}*t)/sinh(${axis.k})); label=4;}
mesh Th=buildmesh(plane(${Math.ceil(3 / grade.fineness)})+outer(${Math.ceil(2 / grade.fineness)})+tip(${wall.n})+axis(${axis.n}), fixedborder=true);
fespace Vh(Th, P2);
Vh v, w;
real start=clock();
varf form(v, w)=int2d(Th)(x*(dx(v)*dx(w)+dy(v)*dy(w)))+on(1, v=1)+on(2, v=0);
matrix A=form(Vh, Vh, tgv=-1);
real[int] b=form(0, Vh, tgv=-1);
set(A, solver=sparsesolver);
v[]=A^-1*b;
real spent=clock()-start;
cout.precision(12);
cout << "RESULT " << Vh.ndof << " " << dy(v)(0, ${DISTANCE}*(1-1e-9)) << " " << spent << endl;
`,
  );
  const start = performance.now();
  const { stdout, error } = spawnSync(FREEFEM, ['-nw', '-v', '0', file], { encoding: 'utf8' });
  const cold = performance.now() - start;
  const found = /RESULT (\S+) (\S+) (\S+)/.exec(stdout ?? '');
  if (found === null) return `FreeFEM gave no result: ${error?.message ?? stdout.trim().split('\n').at(-1)}`;
  const [unknowns, field, spent] = found.slice(1).map(Number) as [number, number, number];
  return {
    program: 'FreeFEM P2',
    unknowns,
    error: Math.abs(field) / EXACT_FIELD - 1,
    cold,
    solve: 1000 * spent,
  };
}
