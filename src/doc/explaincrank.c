/* Words for the numbers of crank and body. */
#include <glib/gi18n.h>

#include "doc/explaintables.h"

static const FwExplain list[] = {
  { .id = "crank-speed", .topic = FW_TOPIC_CRANK, .unit = FW_UNIT_TURNS_PER_MINUTE, .title = N_ ("Crank speed"),
    .text = N_ ("How fast the crank goes round. It does not change the shape of the motion, but it changes the "
                "forces: twice the speed makes inertia four times as strong."),
    .positive = N_ ("Positive is forward: the top of the crank moves ahead, or to the right where the crank runs along."),
    .usual = N_ ("20 to 60 by hand: common practice. 25 is what one person keeps up for long."),
    .mend = N_ ("If it knocks, slams or shakes, turn slower first."),
    .caution = FW_CAUTION_PINCH, .more = "file-format.md#crank" },
  { .id = "crank-diameter", .topic = FW_TOPIC_CRANK, .unit = FW_UNIT_MM, .title = N_ ("Crank diameter"),
    .text = N_ ("Outside diameter of the pipe or wire that the crank is made of. A thicker crank bends and twists less; "
                "stiffness grows with the fourth power of the diameter."),
    .usual = N_ ("8 to 15 mm tube for a table piece: common practice."),
    .mend = N_ ("If it is over-stressed, lags or shakes, take a thicker one."),
    .caution = FW_CAUTION_STRENGTH, .more = "strength.md#4-the-crankshaft" },
  { .id = "wall", .topic = FW_TOPIC_CRANK, .unit = FW_UNIT_MM, .title = N_ ("Wall"),
    .text = N_ ("Thickness of the wall of a tube. 0 stands for a solid bar. A tube is nearly as stiff as a bar of the "
                "same diameter, and much lighter."),
    .usual = N_ ("A tenth of the diameter: common practice for tube that is bent or soldered."),
    .mend = N_ ("If it is over-stressed, a larger diameter helps more than a thicker wall."),
    .more = "strength.md#1-sections" },
  { .id = "throw-radius", .topic = FW_TOPIC_CRANK, .unit = FW_UNIT_MM, .title = N_ ("Throw radius"),
    .text = N_ ("Distance from the crank's axis to the pin that a rod or the post turns on. In one turn the pin goes up "
                "and down by twice the radius, and that is what makes the stroke."),
    .usual = N_ ("At most a third of the rod's length: common practice for cranks."),
    .mend = N_ ("A larger radius gives a wider stroke and a weaker push at both ends of it; a smaller one the contrary."),
    .more = "model.md#10-how-the-numbers-play-together" },
  { .id = "throw-phase", .topic = FW_TOPIC_CRANK, .unit = FW_UNIT_DEG, .title = N_ ("Phase"),
    .text = N_ ("Where on its circle the pin stands when the crank is at 0°: the angle from straight up. Phases decide "
                "which part moves first."),
    .positive = N_ ("Positive turns the pin on, the way the crank turns."),
    .usual = N_ ("A tip that follows its arm by 40° to 90° looks like a wing beat: our own taste."),
    .mend = N_ ("More phase lets the panel come earlier, by about as many degrees."),
    .more = "model.md#1-frames-and-signs" },
  { .id = "throw-station", .topic = FW_TOPIC_CRANK, .unit = FW_UNIT_MM, .title = N_ ("Station"),
    .text = N_ ("Where along the crank's axis the throw stands, measured from the middle of the sculpture."),
    .positive = N_ ("Positive is to the sculpture's right, or ahead where the crank runs along."),
    .usual = N_ ("Straight below the point that the rod holds: then the rod does not lean."),
    .mend = N_ ("If the rod leans too far, move the station under its hold; if throws collide, move them apart."),
    .more = "model.md#1-frames-and-signs" },
  { .id = "throw-width", .topic = FW_TOPIC_CRANK, .unit = FW_UNIT_MM, .title = N_ ("Pin width"),
    .text = N_ ("Clear length of the pin between the two webs of its throw: the room for everything that turns on it."),
    .usual = N_ ("The widths of all fittings on it and half a millimetre to spare: common practice."),
    .mend = N_ ("If throws collide, make the fittings narrower before the pin wider."),
    .more = "workshop.md#the-crank-as-built-shopbuildh" },

  { .id = "body-at", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Place of a fixed body"),
    .text = N_ ("Where the body's datum stands, measured from the crank's axis in the middle of the sculpture. The datum is "
                "the point from which all hinges of the body are measured."),
    .positive = N_ ("Positive is to the sculpture's right, ahead, and up."),
    .usual = N_ ("High enough that rods are three times the throw or longer: common practice."),
    .mend = N_ ("If rods hit or push weakly, raise the body and lengthen the rods."),
    .more = "model.md#2-how-the-body-rides" },
  { .id = "body-tilt-set", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_DEG, .title = N_ ("Tilt of a fixed body"),
    .text = N_ ("How far the body is turned from upright, for good. Everything hinged to it turns along."),
    .positive = N_ ("Positive turns the top ahead (to the right where the crank runs along)."),
    .usual = N_ ("0°, or a few degrees of nose up."), .more = "model.md#2-how-the-body-rides" },
  { .id = "rail-rod", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Body rod length"),
    .text = N_ ("Length of the rod from the crank pin up to the body that slides on its rail. It sets how high the body "
                "stands; the throw sets how far it travels."),
    .usual = N_ ("Three to four throws or more: common practice. A long rod moves the body evenly and presses the rail little."),
    .mend = N_ ("If the slide locks itself, take a longer rod."), .more = "model.md#2-how-the-body-rides" },
  { .id = "rail-offset", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Rail offset"),
    .text = N_ ("How far the upright rail stands from the crank's axis. With an offset the body rises slower than it falls, "
                "or the other way round."),
    .positive = N_ ("Positive is ahead (to the right where the crank runs along)."),
    .usual = N_ ("0 for an even motion; below half the throw otherwise: common practice."),
    .mend = N_ ("If the slide presses hard or locks itself, bring the offset nearer to 0."),
    .more = "model.md#2-how-the-body-rides" },
  { .id = "post", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Post length"),
    .text = N_ ("Length of the post from the crank pin to the body's datum. The post turns on the pin, is held on the way up "
                "by a guide or a link, and carries the body."),
    .usual = N_ ("Well longer than from the pin to the guide at its farthest."),
    .mend = N_ ("If the post slips out of its guide, lengthen it or bring the guide down."),
    .more = "model.md#2-how-the-body-rides" },
  { .id = "guide", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Guide"),
    .text = N_ ("The sleeve that the post slides through. It stays in its place and swivels, so the post rises, falls and "
                "rocks at once. Offset and height are measured from the crank's axis."),
    .positive = N_ ("Positive is ahead (to the right where the crank runs along), and up."),
    .usual = N_ ("Four throws above the axis, where the body tilts by about 14° to either side."),
    .mend = N_ ("Higher gives less tilt and sway; lower gives more, and presses the guide harder."),
    .more = "model.md#2-how-the-body-rides" },
  { .id = "link-pivot", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Pivot of the link"),
    .text = N_ ("The fixed point on the base that the link swings about. Link, crank and post together are a four-bar "
                "linkage. Offset and height are measured from the crank's axis."),
    .positive = N_ ("Positive is ahead (to the right where the crank runs along), and up."),
    .usual = N_ ("So that the link stands about square to the post in mid-stroke: common practice."),
    .mend = N_ ("If it cannot close, move the pivot nearer or lengthen the link."),
    .more = "model.md#2-how-the-body-rides" },
  { .id = "link-length", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Link length"),
    .text = N_ ("Length of the link that holds the post from a fixed pivot. It makes the post rock instead of falling over."),
    .usual = N_ ("Shortest and longest bar together shorter than the other two together: Grashof's rule, with which a crank "
                 "goes all the way round."),
    .mend = N_ ("If it cannot close, lengthen the link or shorten the throw."),
    .more = "model.md#2-how-the-body-rides" },
  { .id = "link-on", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Link height on the post"),
    .text = N_ ("How far above the crank pin the link holds the post. Nearer to the pin, the same swing of the link tilts the "
                "body more."),
    .usual = N_ ("A third to two thirds of the post: common practice."),
    .mend = N_ ("If the body tilts too much, hold the post higher up."), .more = "model.md#2-how-the-body-rides" },
  { .id = "body-mass", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_G, .title = N_ ("Body mass"),
    .text = N_ ("What the body weighs, without panels. The crank lifts it at every turn."),
    .usual = N_ ("As light as it can be made: weigh it on a kitchen scale."),
    .mend = N_ ("If the crank runs ahead or turns hard, lighten the body or fit a counterweight."),
    .caution = FW_CAUTION_WEIGHT, .more = "forces.md#inverse-dynamics-coreloadsc-test_loadsc" },
  { .id = "body-centre", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Centre of mass of the body"),
    .text = N_ ("The point where the body balances, measured from its datum. Hang it up by a thread from two places: both plumb "
                "lines meet there."),
    .positive = N_ ("Positive is to the sculpture's right, ahead, and up."),
    .usual = N_ ("Straight above the post: then the post is not bent."),
    .mend = N_ ("If the post or guide is loaded sideways, bring the centre over the post."),
    .more = "file-format.md#body" },
  { .id = "gyration", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Radius of gyration"),
    .text = N_ ("How far from its centre the body's weight is spread: a ring of this radius and the same mass would be as hard "
                "to tilt to and fro. It counts only where the body tilts."),
    .usual = N_ ("0.29 of the length for an even bar, 0.35 of the diameter for a disc: textbook values."),
    .mend = N_ ("Heavy ends (a head, a tail) make it large; lighten the ends."),
    .more = "file-format.md#body" },
  { .id = "post-diameter", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Post diameter"),
    .text = N_ ("Outside diameter of the post, or of the rod that carries a body on a rail."),
    .usual = N_ ("As thick as the crank, or thicker: common practice."),
    .mend = N_ ("If the post sags, shakes or is over-stressed, take a thicker one."),
    .caution = FW_CAUTION_STRENGTH, .more = "strength.md#5-rods-post-panels" },
  { .id = "body-play", .topic = FW_TOPIC_BODY, .unit = FW_UNIT_MM, .title = N_ ("Play of the guide"),
    .text = N_ ("Room between the post and what guides it, from touching on one side to touching on the other. When the load "
                "changes sides the post crosses that gap and knocks."),
    .usual = N_ ("0.2 to 0.5 mm for a tube in a drilled guide: common practice."),
    .mend = N_ ("If it knocks, line the guide with felt, or press the post to one side with a spring."),
    .more = "forces.md#bounce-corebouncec-test_bouncec" },
};

FwExplainTable
fw_explain_table_crank (void)
{
  return (FwExplainTable){ list, G_N_ELEMENTS (list) };
}
