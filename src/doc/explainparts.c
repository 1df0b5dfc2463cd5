/* Words for the numbers of panels and rods. */
#include <glib/gi18n.h>

#include "doc/explaintables.h"

static const FwExplain list[] = {
  { .id = "hinge", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_MM, .title = N_ ("Place of the hinge"),
    .text = N_ ("Where the panel's hinge line passes: on the body measured from its datum, on another panel measured from "
                "that panel's own hinge."),
    .positive = N_ ("On the body: to the right, ahead, up. On a panel: outward, along the hinge, up. For the right-hand panel; "
                    "the left one is its mirror image."),
    .usual = N_ ("On the edge of what it hangs on, with room for the hinge."),
    .mend = N_ ("Moving a hinge changes every rod of that panel: look at the trouble list after it."),
    .more = "model.md#3-panels" },
  { .id = "sweep", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_DEG, .title = N_ ("Sweep"),
    .text = N_ ("How far the hinge line is turned as seen from above. A swept hinge lets the wing twist as it rises, as a "
                "bird's wing does."),
    .positive = N_ ("Positive turns the front end of the hinge outward."),
    .usual = N_ ("0° to 20°: our own taste. The rod's upper joint must follow."),
    .mend = N_ ("If the rod bends too far at its upper joint, take less sweep."), .more = "model.md#3-panels" },
  { .id = "cant", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_DEG, .title = N_ ("Cant"),
    .text = N_ ("How far the hinge line is tipped as seen from the side. A canted hinge lets the wing swing forward or "
                "back as it rises."),
    .positive = N_ ("Positive lifts the front end of the hinge."),
    .usual = N_ ("0° to 15°: our own taste."),
    .mend = N_ ("If the rod bends too far at its upper joint, take less cant."), .more = "model.md#3-panels" },
  { .id = "span", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_MM, .title = N_ ("Span"),
    .text = N_ ("Length of the panel from its hinge to its tip."),
    .usual = N_ ("Inner and outer panel about alike, or the outer one longer: our own taste."),
    .mend = N_ ("A long panel weighs, sags and pinches more; shorten it, or make it of lighter sheet."),
    .more = "file-format.md#panels" },
  { .id = "stop", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_DEG, .title = N_ ("Stop"),
    .text = N_ ("A wedge or a cord at the hinge that the panel cannot pass. A driven panel must not reach it; a panel that "
                "hangs leans on it."),
    .positive = N_ ("Positive is above level, as the panel's angle is counted."),
    .usual = N_ ("3° to 10° beyond the swing on either side: common practice."),
    .mend = N_ ("If it is driven past its stop, move the stop out or narrow the stroke."),
    .caution = FW_CAUTION_PINCH, .more = "file-format.md#panels" },
  { .id = "thickness", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_MM, .title = N_ ("Thickness of the sheet"),
    .text = N_ ("Thickness of the sheet that the panel is cut from. Twice as thick is twice as heavy and eight times as stiff."),
    .usual = N_ ("1.5 to 3 mm board or ply for a span of 200 mm: common practice."),
    .mend = N_ ("If the panel sags or flutters, take thicker or stiffer sheet, or glue a rib on."),
    .more = "strength.md#5-rods-post-panels" },
  { .id = "sheet-weight", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_GPM2, .title = N_ ("Sheet weight"),
    .text = N_ ("Mass of a square metre of the sheet. With the outline it gives the panel's mass, its centre and how hard it "
                "is to swing."),
    .usual = N_ ("Weigh a known piece: grams divided by square metres. Office paper has 80."),
    .mend = N_ ("Lighter sheet eases everything below it."), .more = "file-format.md#materials" },
  { .id = "mass", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_G, .title = N_ ("Mass"),
    .text = N_ ("What the part weighs. Of a rod, half counts at each end."),
    .usual = N_ ("As it lies on the scale, with glue, paint and fittings."),
    .mend = N_ ("What is far from its hinge weighs most on the crank: save weight at the tips first."),
    .more = "forces.md#inverse-dynamics-coreloadsc-test_loadsc" },
  { .id = "panel-centre", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_MM, .title = N_ ("Centre of mass of the panel"),
    .text = N_ ("The point where the panel balances on a finger, measured from its hinge."),
    .positive = N_ ("Positive is outward, along the hinge to the front, and up."),
    .usual = N_ ("Near the hinge: a load at half the distance asks half the torque."),
    .mend = N_ ("Cut weight away near the tip, or fit a counterweight behind the hinge."), .more = "file-format.md#panels" },
  { .id = "hinge-play", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_MM, .title = N_ ("Play of the hinge"),
    .text = N_ ("Room in the hinge between pin and hole. When the load changes sides the hinge crosses it and knocks."),
    .usual = N_ ("0.1 to 0.3 mm for a pin in a drilled tube; none for a glued cloth hinge: common practice."),
    .mend = N_ ("A closer fit, a bushing, or a weight that keeps the load on one side."),
    .more = "forces.md#bounce-corebouncec-test_bouncec" },
  { .id = "angle", .topic = FW_TOPIC_PANELS, .unit = FW_UNIT_DEG, .title = N_ ("Panel angle"),
    .text = N_ ("How far the panel is raised about its hinge. 0° goes straight on from what it hangs on, so a tip at 0° is in "
                "line with its arm."),
    .positive = N_ ("Positive raises the panel."),
    .usual = N_ ("A beat of 40° to 70° from lowest to highest: our own taste."),
    .mend = N_ ("Throw radius and hold set how far it swings; the rod's length sets about which middle."),
    .more = "model.md#3-panels" },

  { .id = "rod-from", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_MM, .title = N_ ("Start of the rod"),
    .text = N_ ("The point that the rod's lower end is held at, where it does not start from a crank pin: on the base, the "
                "body or another panel."),
    .positive = N_ ("On base and body: to the right, ahead, up. On a panel: outward, along the hinge, up."),
    .usual = N_ ("So that the rod stands square to the panel in mid-stroke: common practice."),
    .mend = N_ ("If the push is weak, move the start away from the panel's own line."), .more = "file-format.md#rods" },
  { .id = "rod-hold", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_MM, .title = N_ ("Hold of the rod"),
    .text = N_ ("The point of the panel that the rod holds, measured from the panel's hinge. Its distance from the hinge is the "
                "lever that the rod works with."),
    .positive = N_ ("Positive is outward, along the hinge to the front, and up."),
    .usual = N_ ("One and a half to three throws from the hinge: common practice."),
    .mend = N_ ("Farther out gives a narrower stroke, a better push and less load on the rod."),
    .more = "model.md#10-how-the-numbers-play-together" },
  { .id = "rod-length", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_MM, .title = N_ ("Rod length"),
    .text = N_ ("From the centre of one joint to the centre of the other, not the length of the bar that you cut. It sets the "
                "middle about which the panel swings."),
    .usual = N_ ("Three throws or longer: common practice. A long rod leans less and makes the stroke even."),
    .mend = N_ ("If it cannot close, the message says by how much it is too short or too long."),
    .more = "model.md#4-one-driven-hinge-in-closed-form" },
  { .id = "near", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_DEG, .title = N_ ("Assembled near"),
    .text = N_ ("A rod and a panel fit together in two ways, like a knee that bends forward or back. This angle says which one "
                "you built: the way nearer to it at crank angle 0 is taken, and kept all the turn."),
    .positive = N_ ("Positive is above level."),
    .usual = N_ ("0°, unless the panel starts far up or down."),
    .mend = N_ ("If the panel is drawn folded the wrong way, type the angle at which it really stands."),
    .more = "model.md#4-one-driven-hinge-in-closed-form" },
  { .id = "rod-diameter", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_MM, .title = N_ ("Rod diameter"),
    .text = N_ ("Thickness of the rod. A rod that pushes can bow out and buckle; what it bears grows with the fourth power of "
                "its diameter."),
    .usual = N_ ("A hundredth of its length or more: common practice."),
    .mend = N_ ("If it may buckle, take a thicker rod or a tube."),
    .more = "strength.md#5-rods-post-panels" },
  { .id = "lean-allowed", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_DEG, .title = N_ ("Lean limit"),
    .text = N_ ("How far the fitting at the rod's lower end lets it lean along the crank's axis before it binds."),
    .usual = N_ ("25° for a loose eye or universal joint (design texts); 90° for a ball."),
    .mend = N_ ("Measure your fitting: push the rod aside until it touches."), .more = "model.md#7-what-is-measured-along-the-turn" },
  { .id = "bend-allowed", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_DEG, .title = N_ ("Bend limit"),
    .text = N_ ("How far the joint at the rod's upper end lets it bend out of the plane that the panel swings in."),
    .usual = N_ ("45° for a loop of wire or cord, more for a ball: common practice."),
    .mend = N_ ("Measure your joint: bend it aside until it touches."), .more = "model.md#7-what-is-measured-along-the-turn" },
  { .id = "rod-play", .topic = FW_TOPIC_RODS, .unit = FW_UNIT_MM, .title = N_ ("Play of the rod"),
    .text = N_ ("How far the rod can be moved to and fro along itself with both ends held: the room of its two joints together."),
    .usual = N_ ("0.2 to 0.6 mm for two drilled eyes: common practice."),
    .mend = N_ ("If it knocks: closer fits, felt, or a spring that keeps the rod pulled."),
    .more = "forces.md#bounce-corebouncec-test_bouncec" },
};

FwExplainTable
fw_explain_table_parts (void)
{
  return (FwExplainTable){ list, G_N_ELEMENTS (list) };
}
