#include "heron.h"

#include <stdlib.h>
#include <string.h>

static char *
text (const char *words)
{
  char *copy = malloc (strlen (words) + 1);
  strcpy (copy, words);
  return copy;
}

static void *
copied (const void *from, size_t size)
{
  void *to = malloc (size);
  memcpy (to, from, size);
  return to;
}

static FwThrow
throw_of (const char *name, double radius, double phase, double station, bool both)
{
  return (FwThrow){ text (name), radius, phase, station, both, 20 };
}

static FwPanel
panel_of (const char *name, FwSide side, int on, FwVec3 hinge, FwReach reach, double span,
          const char *material)
{
  return (FwPanel){ .name = text (name),
                    .side = side,
                    .on = on,
                    .hinge_mm = hinge,
                    .reach = reach,
                    .span_mm = span,
                    .thickness_mm = 3,
                    .material = text (material) };
}

static FwRod
rod_of (const char *name, FwSide side, FwAnchor from, int panel, FwVec3 at, double length,
        double near)
{
  return (FwRod){ .name = text (name),
                  .side = side,
                  .from = from,
                  .panel = panel,
                  .at_mm = at,
                  .length_mm = length,
                  .near_deg = near,
                  .diameter_mm = 4,
                  .material = text ("brass rod"),
                  .lean_limit_deg = 25,
                  .bend_limit_deg = 45 };
}

#define SET_SOLID(solid, list)                                                                     \
  ((solid).sections = copied (list, sizeof list),                                                  \
   (solid).n_sections = (int)(sizeof list / sizeof list[0]))

static void
set_outline (FwPanel *p, const FwVec2 *points, int n)
{
  p->outline_mm = copied (points, sizeof *points * (size_t)n);
  p->n_outline = n;
}

static void
heron_panels (FwDesign *d)
{
  static const FwVec2 inner[] = { { 0, 62 },    { 70, 70 },   { 150, 74 }, { 210, 66 },
                                  { 210, -66 }, { 150, -84 }, { 70, -88 }, { 0, -74 } };
  static const FwVec2 outer[]
      = { { 0, 66 },    { 60, 66 },   { 130, 50 },  { 190, 18 },  { 226, -30 },
          { 214, -42 }, { 190, -34 }, { 192, -62 }, { 170, -52 }, { 160, -82 },
          { 134, -64 }, { 118, -92 }, { 92, -72 },  { 60, -94 },  { 0, -66 } };
  static const FwVec2 tail[]
      = { { 0, 26 }, { 90, 40 }, { 112, 22 }, { 116, 0 }, { 112, -22 }, { 90, -40 }, { 0, -26 } };
  static const FwSection neck[] = { { -6, -24, 26, 22 }, { 30, 2, 42, 17 },    { 62, 34, 68, 13 },
                                    { 92, 62, 96, 12 },  { 118, 74, 108, 15 }, { 142, 76, 106, 14 },
                                    { 164, 80, 98, 8 },  { 200, 82, 91, 3.5 }, { 246, 82, 85, 1 } };
  d->n_panels = 4;
  d->panels = malloc (sizeof (FwPanel) * 4);
  d->panels[0] = panel_of ("inner", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (45, 0, 0), FW_REACH_SIDE,
                           210, "kraft card");
  d->panels[1]
      = panel_of ("outer", FW_SIDE_BOTH, 0, fw_vec3 (210, 0, 0), FW_REACH_SIDE, 226, "kraft card");
  d->panels[2] = panel_of ("neck", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, 118, 44),
                           FW_REACH_FORWARD, 246, "paper");
  d->panels[3] = panel_of ("tail", FW_SIDE_MIDDLE, FW_ON_BODY, fw_vec3 (0, -150, 6), FW_REACH_BACK,
                           116, "card");
  set_outline (&d->panels[0], inner, G_N_ELEMENTS (inner));
  set_outline (&d->panels[1], outer, G_N_ELEMENTS (outer));
  set_outline (&d->panels[3], tail, G_N_ELEMENTS (tail));
  SET_SOLID (d->panels[2].solid, neck);
  d->panels[2].solid.has_eye = true;
  d->panels[2].solid.eye_mm[0] = 140;
  d->panels[2].solid.eye_mm[1] = 95;
  d->panels[2].solid.eye_mm[2] = 4;
  d->panels[0].has_stops = d->panels[1].has_stops = true;
  d->panels[0].stops_deg[0] = -45;
  d->panels[0].stops_deg[1] = 40;
  d->panels[1].stops_deg[0] = -60;
  d->panels[1].stops_deg[1] = 50;
}

static void
heron_body (FwDesign *d)
{
  static const FwSection body[]
      = { { -168, -2, 12, 10 }, { -130, -20, 22, 26 }, { -80, -38, 34, 40 }, { -20, -48, 44, 46 },
          { 40, -46, 52, 44 },  { 90, -32, 62, 35 },   { 126, 4, 66, 24 } };
  d->body = (FwBody){ .ride = FW_RIDE_SLEEVE,
                      .throw_index = 0,
                      .post_mm = 420,
                      .guide_mm = { 0, 180 },
                      .diameter_mm = 10,
                      .material = text ("copper tube"),
                      .mass_g = 900,
                      .centre_mm = { 0, 35, 60 },
                      .gyration_mm = 140 };
  SET_SOLID (d->body.solid, body);
}

FwDesign *
heron_design (void)
{
  FwDesign *d = calloc (1, sizeof *d);
  d->crank = (FwCrank){ .runs = FW_RUNS_ACROSS,
                        .turns_per_minute = 40,
                        .diameter_mm = 10,
                        .material = text ("copper tube"),
                        .n_throws = 3 };
  d->crank.throws = malloc (sizeof (FwThrow) * 3);
  d->crank.throws[0] = throw_of ("mid", 40, 0, 0, false);
  d->crank.throws[1] = throw_of ("in", 30, 180, 150, true);
  d->crank.throws[2] = throw_of ("out", 44, 210, 309, true);
  d->base.handle_mm = 60;
  heron_body (d);
  heron_panels (d);
  d->n_rods = 4;
  d->rods = malloc (sizeof (FwRod) * 4);
  d->rods[0] = rod_of ("inrod", FW_SIDE_BOTH, (FwAnchor){ .kind = FW_FROM_THROW, .index = 1 }, 0,
                       fw_vec3 (140, 0, -12), 412, 0);
  d->rods[1] = rod_of ("outrod", FW_SIDE_BOTH, (FwAnchor){ .kind = FW_FROM_THROW, .index = 2 }, 1,
                       fw_vec3 (90, 0, -15), 404, 10);
  d->rods[2] = rod_of ("necktie", FW_SIDE_MIDDLE,
                       (FwAnchor){ .kind = FW_FROM_BODY, .at_mm = { 0, 112, -10 } }, 2,
                       fw_vec3 (30, 0, -10), 56.9, 0);
  d->rods[3] = rod_of ("tailtie", FW_SIDE_MIDDLE,
                       (FwAnchor){ .kind = FW_FROM_BODY, .at_mm = { 0, -165, -40 } }, 3,
                       fw_vec3 (40, 0, -8), 45.5, 0);
  return d;
}

FwDesign *
short_heron_design (void)
{
  FwDesign *d = heron_design ();
  d->rods[1].length_mm = 352;
  return d;
}

FwDesign *
moth_design (void)
{
  FwDesign *d = calloc (1, sizeof *d);
  d->crank = (FwCrank){ .runs = FW_RUNS_ALONG,
                        .turns_per_minute = 60,
                        .diameter_mm = 3,
                        .material = text ("steel wire"),
                        .n_throws = 1 };
  d->crank.throws = malloc (sizeof (FwThrow));
  d->crank.throws[0] = throw_of ("eye", 14, 0, 0, false);
  d->body = (FwBody){
    .ride = FW_RIDE_FIXED, .at_mm = { 0, 0, 120 }, .diameter_mm = 5, .material = text ("steel wire")
  };
  d->n_panels = 1;
  d->panels = malloc (sizeof (FwPanel));
  d->panels[0] = panel_of ("wing", FW_SIDE_BOTH, FW_ON_BODY, fw_vec3 (8, 0, 0), FW_REACH_SIDE, 120,
                           "tissue");
  d->panels[0].sweep_deg = 10;
  d->n_rods = 1;
  d->rods = malloc (sizeof (FwRod));
  d->rods[0] = rod_of ("push", FW_SIDE_BOTH, (FwAnchor){ .kind = FW_FROM_THROW, .index = 0 }, 0,
                       fw_vec3 (28, 0, -2), 124, 5);
  d->rods[0].diameter_mm = 1.5;
  d->base.handle_mm = 24;
  return d;
}

Stage *
stage_new (FwDesign *design, double crank_deg)
{
  FwMechanism *mechanism = NULL;
  FwFault fault = { 0 };
  FwStatus status = fw_mechanism_build (design, &mechanism, &fault);
  if (status != FW_OK)
    g_error ("the test design does not build: %s (%c %d %s)", fw_status_text (status), fault.kind,
             fault.index, fault.what == NULL ? "" : fault.what);
  Stage *s = g_new0 (Stage, 1);
  s->design = design;
  s->mechanism = mechanism;
  s->pose = fw_pose_new (mechanism);
  s->scratch = fw_pose_new (mechanism);
  s->turn = fw_turn_new (mechanism, 360);
  fw_turn_solve (s->turn, mechanism);
  s->troubles = (FwTroubleList){ .items = g_new0 (FwTrouble, FW_TROUBLE_ROOM),
                                 .capacity = FW_TROUBLE_ROOM };
  fw_trouble_find (s->turn, mechanism, &s->troubles);
  s->loads = fw_load_turn_new (mechanism, 360);
  fw_load_turn_solve (s->loads, mechanism, fw_crank_speed (mechanism->design));
  s->scene = (FwScene){ .mechanism = mechanism,
                         .pose = s->pose,
                         .turn = s->turn,
                         .troubles = &s->troubles,
                         .scratch = s->scratch,
                         .loads = s->loads,
                         .bounces = s->bounces };
  s->scene.n_bounces = MIN (fw_reversals (s->loads, mechanism, s->bounces, 64, NULL, NULL), 64);
  stage_turn_to (s, crank_deg);
  return s;
}

void
stage_turn_to (Stage *s, double crank_deg)
{
  fw_pose_solve (s->pose, s->mechanism, crank_deg * G_PI / 180);
}

void
stage_free (Stage *s)
{
  free (s->pose);
  free (s->scratch);
  free (s->turn);
  free (s->loads);
  g_free (s->troubles.items);
  fw_mechanism_free (s->mechanism);
  fw_design_free (s->design);
  g_free (s);
}
