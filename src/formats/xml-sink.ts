/** What the XML feed tells its reader: elements, their attributes and the texts of arrays; and how both stop. */

/** Thrown where reading must stop, by the feed or by whom it tells; its message is the reason. */
export class Break extends Error {}

export type Attributes = Record<string, string>;

export interface XmlSink {
  /** Names come without their namespace prefix. */
  open(name: string, attributes: Attributes): void;
  close(name: string): void;
  /** Asked when an array element has just been opened: false lets its text pass unread. */
  wantsArray(): boolean;
  arrayText(piece: Uint8Array): void;
  /** False for an empty element inside a spectrum that changes nothing. Its attributes are those that stay the same. */
  heeds(name: string, attributes: Attributes): boolean;
  /** True when nothing more of the spectrum at hand matters but its end. */
  skipsRest(): boolean;
}
