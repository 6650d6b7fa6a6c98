/** Dragging a handle inside a drawing: pointer positions in the drawing's own units, and arrow keys as small steps. */
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';

export interface DragHandlers {
  onPointerDown: (event: PointerEvent<SVGElement>) => void;
  onPointerMove: (event: PointerEvent<SVGElement>) => void;
  onPointerUp: (event: PointerEvent<SVGElement>) => void;
  onKeyDown: (event: KeyboardEvent<SVGElement>) => void;
}

const STEPS: Record<string, number> = {
  ArrowRight: 1,
  ArrowUp: 1,
  ArrowLeft: -1,
  ArrowDown: -1,
  PageUp: 10,
  PageDown: -10,
};

export function useDrag(
  onMove: (x: number, y: number) => void,
  onStep: (steps: number) => void,
): DragHandlers {
  const held = useRef(false);
  const move = (event: PointerEvent<SVGElement>) => {
    const drawing = event.currentTarget.ownerSVGElement;
    if (!drawing) return;
    const box = drawing.getBoundingClientRect();
    const view = drawing.viewBox.baseVal;
    onMove(
      ((event.clientX - box.left) / box.width) * view.width,
      ((event.clientY - box.top) / box.height) * view.height,
    );
  };
  return {
    onPointerDown: (event) => {
      held.current = true;
      event.currentTarget.setPointerCapture(event.pointerId);
      event.currentTarget.focus();
      event.preventDefault();
    },
    onPointerMove: (event) => {
      if (held.current) move(event);
    },
    onPointerUp: (event) => {
      if (held.current) move(event);
      held.current = false;
    },
    onKeyDown: (event) => {
      const steps = STEPS[event.key];
      if (steps === undefined) return;
      event.preventDefault();
      onStep(steps);
    },
  };
}
