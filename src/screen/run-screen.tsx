import { EventEmitter } from "node:events";
import { render } from "ink";
import { drawFrame } from "./draw-frame.ts";
import { actionOf } from "./keymap.ts";
import {
  type Decoded,
  decodeKeys,
  decodeNoMore,
  ESCAPE_WAIT,
  isWaiting,
  type KeyPress,
  noKeyBytes,
} from "./keys.ts";
import { paintLine } from "./line.ts";
import { paintFrame } from "./paint-frame.ts";
import { Screen } from "./screen.tsx";
import { type Action, type Answer, type Effect, type OutsideEffect, startSession } from "./session.ts";
import type { PaneLink, SheetView } from "./sheet-view.ts";
import { step } from "./step.ts";
import { linkUnderCursor } from "./step-pane.ts";
import { restoreTerminal, sizeOf, type Terminal, takeTerminal } from "./terminal.ts";

/** How the sheet came to its end. */
export type Ending =
  | { readonly kind: "left" }
  /** The terminal is gone. */
  | { readonly kind: "hung up" }
  | { readonly kind: "signal"; readonly signal: NodeJS.Signals }
  | { readonly kind: "failed"; readonly error: unknown };

export interface RunningScreen {
  /** Settles when the terminal has been given back. */
  readonly ended: Promise<Ending>;
  /** Ends it from outside; the first ending counts. */
  end(ending: Ending): void;
  /** After the process was stopped and goes on: the terminal may have been used by others. */
  resume(): void;
  /** The sheet shows something else now, without a key: drawn as soon as nothing else is being done. */
  changed(): void;
}

/** Does what the sheet asks of the outside world, and says what came of it. */
export type Perform = (effect: OutsideEffect) => Promise<Answer>;

const nobodyOutside: Perform = () =>
  Promise.reject(new Error("runScreen: there is nobody to do what was asked"));

/**
 * Runs the sheet in a terminal until somebody leaves. What is asked of the outside world is done before the next key is
 * read: whoever sees the next frame knows that what they typed is kept.
 */
export function runScreen(
  sheet: SheetView,
  terminal: Terminal,
  attributes: boolean,
  outside: Perform = nobodyOutside,
): RunningScreen {
  const { input, output } = terminal;
  let session = startSession(sheet);
  let size = sizeOf(output);
  let bytes = noKeyBytes;
  let escapeWait: NodeJS.Timeout | undefined;
  let running = true;
  let settle: (ending: Ending) => void;
  const ended = new Promise<Ending>((resolve) => {
    settle = resolve;
  });

  const screen = new PaintedScreen((text) => output.write(text));
  const frame = () => drawFrame(session, sheet, size).map((line) => paintLine(line, attributes));
  const whole = (lines: readonly string[]) => {
    screen.width = size.columns;
    screen.rows = size.rows;
    screen.asked = lines;
    return <Screen lines={lines} size={{ columns: screen.columns, rows: size.rows }} />;
  };
  /** The pane's line under the cursor in the last frame: what somebody sees who presses Enter. */
  let onLink: PaneLink | null = null;
  const draw = () => {
    const lines = frame();
    onLink = linkUnderCursor(session, size, sheet);
    if (!screen.paintedOver(lines)) ink.rerender(whole(lines));
  };

  /** Keys read while something is done outside: they wait. */
  const waiting: KeyPress[] = [];
  let busy = false;
  let goingOn: NodeJS.Immediate | undefined;

  const act = (action: Action) => {
    const stepped = step(session, action, size, sheet);
    session = stepped.session;
    for (const effect of stepped.effects) perform(effect);
  };
  const perform = (effect: Effect) => {
    switch (effect.kind) {
      case "leave":
        return end({ kind: "left" });
      case "redraw":
        return screen.forget();
      case "go on":
        clearImmediate(goingOn);
        goingOn = setImmediate(() =>
          guarded(() => {
            act({ kind: "go on" });
            draw();
          }),
        );
        return;
      case "decide":
      case "undo":
      case "redo":
      case "add column":
      case "try recipe":
      case "accept recipe":
      case "drop recipe":
      case "look again":
        busy = true;
        outside(effect).then(
          (answer) =>
            guarded(() => {
              busy = false;
              act(answer);
              pressAll();
              draw();
            }),
          (error: unknown) => end({ kind: "failed", error }),
        );
        return;
      default:
        return effect satisfies never;
    }
  };

  const press = ({ keys, bytes: rest }: Decoded) => {
    bytes = rest;
    waiting.push(...keys);
    if (keys.length > 0 && !busy) {
      pressAll();
      if (running) draw();
    }
  };
  const pressAll = () => {
    while (running && !busy) {
      const key = waiting.shift();
      if (key === undefined) return;
      const action = actionOf(key, session.prompt !== null);
      if (action !== null) act(action);
    }
  };
  const onData = (chunk: Uint8Array) =>
    guarded(() => {
      clearTimeout(escapeWait);
      press(decodeKeys(bytes, chunk));
      if (running && isWaiting(bytes))
        escapeWait = setTimeout(() => guarded(() => press(decodeNoMore(bytes))), ESCAPE_WAIT);
    });
  const onResize = () =>
    guarded(() => {
      size = sizeOf(output);
      act({ kind: "fit window" });
      screen.forget();
      draw();
    });
  const onHangup = () => end({ kind: "hung up" });

  /** A mistake of the program must not leave the terminal in raw mode. */
  const guarded = (work: () => void) => {
    try {
      if (running) work();
    } catch (error) {
      end({ kind: "failed", error });
    }
  };

  function end(ending: Ending): void {
    if (!running) return;
    running = false;
    clearTimeout(escapeWait);
    clearImmediate(goingOn);
    screen.close();
    ink.unmount();
    input.off("data", onData);
    input.off("end", onHangup);
    output.off("resize", onResize);
    restoreTerminal(terminal);
    // The error listeners stay: a terminal that is gone may still say so, and nobody else would hear it.
    input.pause();
    settle(ending);
  }

  act({ kind: "fit window" });
  const first = whole(frame());
  takeTerminal(terminal);
  // Ink's debug mode writes each frame as one text and leaves the cursor alone; where it goes on the screen is ours.
  const ink = render(first, {
    stdout: screen as unknown as NodeJS.WriteStream,
    stdin: input as unknown as NodeJS.ReadStream,
    debug: true,
    exitOnCtrlC: false,
    patchConsole: false,
  });
  ink.waitUntilExit().catch((error: unknown) => end({ kind: "failed", error }));
  input.on("error", onHangup);
  output.on("error", onHangup);
  input.on("end", onHangup);
  input.on("data", onData);
  output.on("resize", onResize);
  input.resume();

  return {
    ended,
    end,
    changed: () =>
      guarded(() => {
        act({ kind: "settled", on: onLink });
        draw();
      }),
    resume: () =>
      guarded(() => {
        takeTerminal(terminal);
        onResize();
      }),
  };
}

/**
 * What ink takes for its terminal. Ink draws the screen when what is on it is not known: at first, in a window of another
 * size, when somebody asks. What a key changes is written past it, for ink takes apart every character of a frame it
 * is given, which costs more than all else a key does.
 */
class PaintedScreen extends EventEmitter {
  /** What ink takes for the width. It fills that much of every line before it puts ours in place, and ours may be longer. */
  readonly columns = 1;
  rows = 0;
  width = 0;
  /** The lines that ink is asked to draw: it leaves out blanks at the ends, which the screen does not tell apart. */
  asked: readonly string[] = [];
  readonly #write: (text: string) => void;
  #shown: readonly string[] | null = null;
  #open = true;

  constructor(write: (text: string) => void) {
    super();
    this.#write = write;
  }

  /** Ink's whole frame. */
  write(frame: string): boolean {
    if (!this.#open) return true;
    this.#paint(frame.split("\n"));
    this.#shown = this.asked;
    return true;
  }

  /** Writes the lines that differ from those on the screen, in one write; false when what is there is not known. */
  paintedOver(lines: readonly string[]): boolean {
    if (this.#shown === null) return false;
    this.#paint(lines);
    return true;
  }

  #paint(lines: readonly string[]): void {
    const text = paintFrame(this.#shown, lines, this.width);
    this.#shown = lines;
    if (text !== "") this.#write(text);
  }

  /** What is on the screen is not known any more. */
  forget(): void {
    this.#shown = null;
  }

  close(): void {
    this.#open = false;
  }
}
