/**
 * Dragging a handle inside a drawing: pointer positions in the drawing's own units, what it moved since it was taken, and arrow keys as
 * small steps. A drawing that fits its scale to the dragged value must use the scale of `onStart`, or the value runs away.
 */
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

export interface Moved {
  x: number;
  y: number;
  /** Since the grip was taken. */
  dx: number;
  dy: number;
}

export function useDrag(
  onMove: (moved: Moved) => void,
  onStep: (steps: number) => void,
  onStart: () => void = () => {},
): DragHandlers {
  const held = useRef<{ x: number; y: number } | undefined>(undefined);
  const place = (event: PointerEvent<SVGElement>) => {
    const drawing = event.currentTarget.ownerSVGElement;
    if (!drawing) return undefined;
    const box = drawing.getBoundingClientRect();
    const view = drawing.viewBox.baseVal;
    return {
      x: ((event.clientX - box.left) / box.width) * view.width,
      y: ((event.clientY - box.top) / box.height) * view.height,
    };
  };
  const move = (event: PointerEvent<SVGElement>) => {
    const at = place(event);
    const from = held.current;
    if (at && from) onMove({ ...at, dx: at.x - from.x, dy: at.y - from.y });
  };
  return {
    onPointerDown: (event) => {
      held.current = place(event);
      onStart();
      event.currentTarget.setPointerCapture(event.pointerId);
      event.currentTarget.focus();
      event.preventDefault();
    },
    onPointerMove: (event) => {
      move(event);
    },
    onPointerUp: (event) => {
      move(event);
      held.current = undefined;
    },
    onKeyDown: (event) => {
      const steps = STEPS[event.key];
      if (steps === undefined) return;
      event.preventDefault();
      onStep(steps);
    },
  };
}
