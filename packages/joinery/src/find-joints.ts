import {
  type Diagnostic,
  type Joint,
  type Master,
  type MasterMate,
  type Outcome,
  settle,
} from '@haunch/model';
import type { Allowances, JointAllowances } from './allowances.js';
import { contactsOfMate, type MateContacts } from './contact.js';
import { noContact } from './diagnostics.js';
import { fitsOfMate } from './group-fits.js';
import type { Contact, Joinery } from './joinery.js';
import { wrongLeaningSlots } from './leaning-slots.js';
import { type Plate, plateOf } from './plate.js';

/** The contacts of a mate that no other mate of the same two parts claims by naming the contour as its own. */
function ownContacts(mate: MasterMate, all: readonly MasterMate[], contacts: MateContacts): MateContacts {
  const same = all.filter(
    (m) =>
      (m.slotPart === mate.slotPart && m.enteringPart === mate.enteringPart) ||
      (m.slotPart === mate.enteringPart && m.enteringPart === mate.slotPart),
  );
  if (same.length === 1) return contacts;
  const claims = (contour: string) => same.filter((m) => m.slotFeatures.includes(contour));
  // What nobody names by its id belongs to the first of these mates.
  const mine = (contour: string) =>
    (claims(contour).length > 0 ? claims(contour) : same.slice(0, 1)).includes(mate);
  return {
    faces: contacts.faces.filter((c) => mine(c.edge.contour)),
    edges: contacts.edges.filter((c) => mine(c.edge.contour)),
    floors: contacts.floors.filter((c) => mine(c.floor.tag.slice(0, c.floor.tag.lastIndexOf('/')))),
  };
}

function listContacts(mate: MasterMate, { faces, edges, floors }: MateContacts): Contact[] {
  const joint = mate.id;
  return [
    ...faces.map(
      (c): Contact => ({
        part: c.plate.id,
        edge: c.edge.tag,
        with: c.other.id,
        joint,
        role: c.role,
        stretch: c.stretch,
      }),
    ),
    ...edges.flatMap((c): Contact[] => [
      {
        part: mate.slotPart,
        edge: c.edge.tag,
        with: mate.enteringPart,
        joint,
        role: c.role,
        stretch: c.stretch,
      },
      {
        part: mate.enteringPart,
        edge: c.partner.tag,
        with: mate.slotPart,
        joint,
        role: c.role,
        stretch: c.partnerStretch,
      },
    ]),
    ...floors.flatMap((c): Contact[] => [
      { part: c.plate.id, edge: c.edge.tag, with: c.owner.id, joint, role: 'seat', stretch: c.stretch },
      { part: c.owner.id, edge: c.floor.tag, with: c.plate.id, joint, role: 'seat', stretch: c.stretch },
    ]),
  ];
}

const allowancesFor = (joint: string, { perJoint, ...usual }: Allowances): JointAllowances => ({
  ...usual,
  ...(perJoint && Object.hasOwn(perJoint, joint) ? perJoint[joint] : {}),
});

/**
 * Finds what is judged in each mate by contact in space, at the master's own thicknesses and without
 * clearance: straight edges (as rectangles of the plate's thickness or the pocket's depth) against faces,
 * edges and pocket floors of the other part, in one plane within 0.001 mm, with opposite normals and a common
 * area. Coplanar without contact is no contact. Where plates are not square to each other, square-cut walls,
 * shoulders and ends touch along an arris: that is a contact too, and the fit says how the plates lean; a slot of
 * another width than the angle asks for is an error when it is too narrow and a warning when it is too wide. Two walls that face each other across a plate make one fit of
 * kind `thickness`; a wall alone wants half the clearance, as the other half is on the plate's free side; ends
 * likewise. Guarantees one joint for each mate, in the master's order. A mate whose parts do not touch is an
 * error that names the joint.
 * @throws RangeError when a mate names a part that the master does not have (`readMaster` refuses that).
 */
export function findJoints(master: Master, allowances: Allowances): Outcome<Joinery> {
  const plates = new Map<string, Plate>(master.parts.map((p) => [p.id, plateOf(p)]));
  const problems: Diagnostic[] = [];
  const joints: Joint[] = [];
  const contacts: Contact[] = [];
  for (const mate of master.mates) {
    const slot = plates.get(mate.slotPart);
    const entering = plates.get(mate.enteringPart);
    if (!slot || !entering)
      throw new RangeError(`findJoints: mate ${mate.id} names a part that the master does not have`);
    const found = ownContacts(mate, master.mates, contactsOfMate(mate, slot, entering));
    const listed = listContacts(mate, found);
    if (listed.length === 0) problems.push(noContact(mate.id, mate.slotPart, mate.enteringPart));
    problems.push(...wrongLeaningSlots(mate, slot, entering, found));
    contacts.push(...listed);
    joints.push({
      id: mate.id,
      type: mate.type,
      slotPart: mate.slotPart,
      enteringPart: mate.enteringPart,
      fits: fitsOfMate(mate, found, allowancesFor(mate.id, allowances)),
    });
  }
  return settle({ joints, contacts }, problems);
}
