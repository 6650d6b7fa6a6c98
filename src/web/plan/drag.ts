/**
 * Dragging a handle inside a drawing: pointer positions in the drawing's own units, what it moved since it was taken, and arrow keys as
 * small steps. A drawing that fits its scale to the dragged value must use the scale of `onStart`, or the value runs away.
 * A pointer that the browser takes away (a scroll, a second finger, a lost capture) lets go of the grip where it stands.
 */
import { type KeyboardEvent, type PointerEvent, useRef } from 'react';

export interface DragHandlers {
  onPointerDown: (event: PointerEvent<SVGElement>) => void;
  onPointerMove: (event: PointerEvent<SVGElement>) => void;
  onPointerUp: (event: PointerEvent<SVGElement>) => void;
  onPointerCancel: (event: PointerEvent<SVGElement>) => void;
  onLostPointerCapture: (event: PointerEvent<SVGElement>) => void;
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
  const held = useRef<{ x: number; y: number; pointer: number } | undefined>(undefined);
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
    const from = held.current;
    const at = from?.pointer === event.pointerId ? place(event) : undefined;
    if (at && from) onMove({ ...at, dx: at.x - from.x, dy: at.y - from.y });
  };
  const release = (event: PointerEvent<SVGElement>) => {
    if (held.current?.pointer === event.pointerId) held.current = undefined;
  };
  return {
    onPointerDown: (event) => {
      const at = place(event);
      if (at === undefined || held.current !== undefined || event.button !== 0) return;
      held.current = { ...at, pointer: event.pointerId };
      onStart();
      event.currentTarget.setPointerCapture(event.pointerId);
      event.currentTarget.focus();
      event.preventDefault();
    },
    onPointerMove: move,
    onPointerUp: (event) => {
      move(event);
      release(event);
    },
    onPointerCancel: release,
    onLostPointerCapture: release,
    onKeyDown: (event) => {
      const steps = STEPS[event.key];
      if (steps === undefined) return;
      event.preventDefault();
      onStep(steps);
    },
  };
}
