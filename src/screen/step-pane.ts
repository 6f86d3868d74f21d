import { onRow } from "./arrange.ts";
import { layOut, paneLinesInView } from "./layout.ts";
import { paneText } from "./pane-text.ts";
import { promptFor } from "./prompt.ts";
import { type Effect, type Session, turnedAway } from "./session.ts";
import type { PaneLink, SheetView, Size } from "./sheet-view.ts";

/**
 * Moves the pane's text; where lines of it lead somewhere, from one of these to the next. What stands before the first and after the last
 * comes into view too. Whoever called finds the ends of the text.
 */
export function movedInPane(session: Session, by: number, size: Size, sheet: SheetView): Session {
  const layout = layOut(session.pane, size);
  if (session.pane === null || layout.pane === null) return session;
  const { lines, links = [] } = paneText(session, sheet, layout.pane);
  const scrolled = { ...session, paneTop: session.paneTop + by };
  const here = links[session.paneAt];
  if (here === undefined) return scrolled;
  const at = Math.abs(by) === 1 ? session.paneAt + by : nearest(links, here.line + by);
  const link = links[at];
  if (link === undefined || at === session.paneAt) return scrolled;
  const high = paneLinesInView(layout);
  const end = links[at + 1]?.line ?? lines.length;
  const most = at === 0 && by < 0 ? 0 : link.line;
  // All of what belongs to the line, as far as there is room.
  const least = Math.min(link.line, end - high);
  return { ...session, paneAt: at, paneTop: Math.max(least, Math.min(session.paneTop, most)) };
}

/** The place of the link nearest to a line. */
function nearest(links: readonly PaneLink[], line: number): number {
  if (line === Infinity) return links.length - 1;
  let found = 0;
  for (const [at, link] of links.entries())
    if (Math.abs(link.line - line) < Math.abs(links[found]!.line - line)) found = at;
  return line === -Infinity ? 0 : found;
}

/** The pane's line under the cursor, where it leads somewhere. */
export function linkUnderCursor(session: Session, size: Size, sheet: SheetView): PaneLink | null {
  const layout = layOut(session.pane, size);
  if (session.focus !== "pane" || layout.pane === null) return null;
  return paneText(session, sheet, layout.pane).links?.[session.paneAt] ?? null;
}

/** A pane that says something else now keeps its cursor on the line it was on, at its place in the window; where that is gone, on the first. */
export function keptOnLink(session: Session, seen: PaneLink, size: Size, sheet: SheetView): Session {
  const layout = layOut(session.pane, size);
  if (layout.pane === null) return session;
  const { links = [] } = paneText(session, sheet, layout.pane);
  const at = links.findIndex(({ to }) => nameOf(to) === nameOf(seen.to));
  const link = links[at];
  if (link === undefined) return { ...session, paneAt: 0, paneTop: 0 };
  return { ...session, paneAt: at, paneTop: Math.max(0, session.paneTop + link.line - seen.line) };
}

/** What a link leads to, in a word. */
function nameOf(to: PaneLink["to"]): string {
  switch (to.kind) {
    case "lateral":
      return `lateral ${to.row}`;
    case "recipe item":
      return to.item.path.join(" ");
    default:
      return to.kind;
  }
}

interface Followed {
  readonly session: Session;
  readonly effects: readonly Effect[];
}

/** Goes where the pane's line leads. */
export function followed(session: Session, size: Size, sheet: SheetView): Followed {
  const plainly = (next: Session): Followed => ({ session: next, effects: [] });
  const layout = layOut(session.pane, size);
  if (session.pane === null || layout.pane === null) return plainly(session);
  const { links = [] } = paneText(session, sheet, layout.pane);
  const link = links[session.paneAt];
  if (link === undefined) return plainly({ ...session, notice: "Nothing leads anywhere from here." });
  const { to } = link;
  switch (to.kind) {
    case "lateral": {
      const there = onRow({ ...session, pane: null, paneTop: 0, paneAt: 0, focus: "sheet" }, to.row);
      return plainly(
        (there === null ? null : { ...there, notice: to.notice ?? null }) ?? {
          ...session,
          notice: "That lateral is not among those shown; a shows all laterals.",
        },
      );
    }
    case "recipe item":
      return plainly(
        turnedAway(session, sheet) ?? {
          ...session,
          prompt: promptFor({ kind: "recipe", item: to.item }, to.item.text),
        },
      );
    case "accept trial":
      if (to.notYet !== undefined) return plainly({ ...session, notice: to.notYet });
      return plainly({ ...session, prompt: promptFor({ kind: "recipe reason" }, "", session.lastReason) });
    case "drop trial":
      return { session: { ...session, paneAt: 0, paneTop: 0 }, effects: [{ kind: "drop recipe" }] };
    default:
      return to satisfies never;
  }
}
