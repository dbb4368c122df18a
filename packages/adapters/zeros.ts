import type { Shot } from "@keyside/core";

/**
 * A shot that a reader has just made, with 0 wherever its file has minus zero: text formats round small negative numbers
 * to it, and in a shot the sign means nothing.
 * @param shot its curves' numbers are changed in place, so it must not have been handed out yet
 */
export function plainZeros(shot: Shot): Shot {
  for (const { values, handles } of shot.curves) {
    clear(values);
    if (handles !== null) clear(handles);
  }
  const nodes = shot.header.nodes.map((node) => {
    const { translation, fixedRotation, rotation, scale } = node;
    return {
      ...node,
      ...(translation === undefined ? {} : { translation: cleared(translation) }),
      ...(fixedRotation === undefined ? {} : { fixedRotation: cleared(fixedRotation) }),
      ...(rotation === undefined ? {} : { rotation: cleared(rotation) }),
      ...(scale === undefined ? {} : { scale: cleared(scale) }),
    };
  });
  return { ...shot, header: { ...shot.header, nodes } };
}

function clear(numbers: Float64Array): void {
  for (let i = 0; i < numbers.length; i++) if (numbers[i] === 0) numbers[i] = 0;
}

function cleared<T extends number[]>(numbers: T): T {
  return numbers.map((number) => (number === 0 ? 0 : number)) as T;
}
