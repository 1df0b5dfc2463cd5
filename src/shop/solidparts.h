/* Printed parts: rod clamps, bushings, stop wedges and the post's guide, as closed meshes that fit
 * the design. Shapes, fits and derivations: docs/parts.md.
 *
 * mm and degrees. A part is made in a frame of its own (below) and printed as `lay` turns it.
 * Every part here is its own mirror image, or becomes it by half a turn, so left and right are
 * printed alike. */
#pragma once

#include "doc/units.h"
#include "shop/letters.h"
#include "shop/mesh.h"

G_BEGIN_DECLS

/* A rod's lower end on the crank. Frame: origin on the pin's axis in the middle of the clamp, x along
 * the crank axis, z up the rod, y along the cross pin that the rod leans about. */
typedef struct
{
  double width_mm;    /* along x */
  double bore_mm;     /* diameter: pin of the crank and a running fit */
  double outer_mm;    /* half width along y, and radius of the round underside */
  double pivot_mm;    /* z of the cross pin */
  double top_mm;      /* z of the cheeks' upper edge */
  double slot_mm;     /* between the cheeks, along y */
  double cross_mm;    /* diameter of the cross pin's hole */
  double cross_pin_mm; /* of the pin itself */
  double eye_mm;      /* radius of the room round the cross pin for the rod's end */
  double stem_mm;     /* radius of the rod */
  double lean_deg[2]; /* that the turn needs about the cross pin, least and most, toward +x */
  double free_deg[2]; /* that the cheeks allow */
  double room_mm;     /* of the throw's clear width that there is for it */
  double slip_mm;     /* how much the distance from crank pin to upper joint varies over the turn because the
                       * rod leans about the cross pin and not about the crank pin */
  double mouth_deg;   /* half the opening below of one that springs on; 0: a closed ring */
  gboolean wound;     /* the rod's end is wound into an eye; else drilled */
} FwClampSize;

/* Turned about z; its flange at z = 0. */
typedef struct
{
  double bore_mm, outer_mm, flange_mm; /* diameters */
  double flange_thick_mm, length_mm;   /* length with the flange */
} FwBushingSize;

/* Frame: origin where the faces of parent and panel would meet, x outward along the parent's face, y up
 * from that face (for a lower stop: down), z along the hinge line. */
typedef struct
{
  double stop_deg;   /* by how much the panel turns toward the parent's face: the wedge's seats make
                      * 180 less this */
  double reach_mm;   /* of both seats */
  double relief_mm;  /* cut off at the hinge; 0: none */
  double length_mm;  /* along the hinge line */
  double hole_mm;    /* diameter, along the hinge line; 0: no room */
} FwWedgeSize;

/* Post along z through it. Swivelling: z from 0, turns on two screws along x. Straight: on a flange at
 * z = 0. */
typedef struct
{
  gboolean swivels;
  double bore_mm, height_mm;
  double half_x_mm, half_y_mm; /* of the block, or of the flange */
  double screw_mm, screw_deep_mm; /* hole for a screw: diameter, depth (straight: through) */
  double boss_mm, flange_thick_mm; /* straight: outside diameter above the flange */
  double screw_at_mm[2];           /* straight: of the four screws, x and y from the middle */
} FwGuideSize;

typedef struct
{
  FwMadeKind kind;
  int index, nth;   /* as the letters have them */
  char letter[8];   /* "" without letters */
  char *name;       /* "Rod clamp of arm-rod" */
  char *file;       /* name of its file without its end: plain letters, figures and dashes */
  char *note;       /* what it fits and what to measure */
  char *lie;        /* how it lies on the printer's bed */
  char *problem;    /* why it cannot be made, a sentence that names it; then `mesh` is NULL */
  int count;
  FwMesh *mesh;     /* in its own frame */
  FwFrame lay;      /* turns it as it is printed; settle it after that */
  FwVec3 size_mm;   /* of its box as it lies */
  double volume_mm3;
  union
  {
    FwClampSize clamp;
    FwBushingSize bushing;
    FwWedgeSize wedge;
    FwGuideSize guide;
  } as;
} FwSolidPart;

typedef struct
{
  FwSolidPart *parts;
  int n_parts;
  int n_problems;
} FwSolidParts;

/* All printed parts of a design. The lean comes from the solved turn. `letters` gives letters and counts;
 * it may be NULL. Lengths in words are as `lengths` says. */
FwSolidParts *fw_solid_parts_new (const FwMechanism *mechanism, const FwMadeList *letters,
                                  FwLengths lengths);
void fw_solid_parts_free (FwSolidParts *parts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FwSolidParts, fw_solid_parts_free)

/* "38 × 20 × 12 mm", of its box as it lies, as `lengths` says; no line ends within it. Free with g_free (). */
char *fw_solid_size_words (const FwSolidPart *part, FwLengths lengths);

/* The mesh as it is printed: turned, its box from the origin. Free with fw_mesh_free (). */
FwMesh *fw_solid_part_laid (const FwSolidPart *part);

/* ---- Pieces, for this layer and its tests: NULL or FALSE with `problem` set (g_free) ---- */

/* Lean of a rod about its clamp's cross pin over the turn, degrees, and the slip; twins mirrored onto the
 * right-hand one. FALSE: no pose of the turn can be assembled. */
gboolean fw_clamp_lean (const FwMechanism *mechanism, int rod, double pivot_mm, double lean_deg[2],
                        double *slip_mm);
gboolean fw_clamp_size (const FwMechanism *mechanism, int rod, FwLengths lengths, FwClampSize *size,
                        char **problem);
/* Length of pin that a rod's printed clamp takes, mm, or would need where it cannot be made for want of
 * room; the lean at every fifth degree. 0: it cannot be told. */
double fw_clamp_width (const FwMechanism *mechanism, int rod);
FwMesh *fw_clamp_mesh (const FwClampSize *size, double chamfer_mm);

/* Of a bearing's tee, from the crank's pipe and design->print. */
gboolean fw_bushing_size (const FwDesign *design, FwLengths lengths, FwBushingSize *size, char **problem);
/* Its body in its own frame, mm, edges broken by the chamfer; NULL where memory or the shape fails. Free with fw_mesh_free (). */
FwMesh *fw_bushing_mesh (const FwBushingSize *size, double chamfer_mm);

gboolean fw_wedge_size (const FwDesign *design, int panel, int nth, FwWedgeSize *size, char **problem);
/* Its outline in x, y, anticlockwise; returns how many points (at most 8). */
int fw_wedge_outline (const FwWedgeSize *size, FwVec2 out[8]);
FwMesh *fw_wedge_mesh (const FwWedgeSize *size, double chamfer_mm);

/* Of a sleeve's swivelling guide, or of what leads a straight post. */
gboolean fw_guide_size (const FwDesign *design, FwLengths lengths, FwGuideSize *size, char **problem);
/* Its body in its own frame, mm, edges broken by the chamfer; NULL where memory or the shape fails. Free with fw_mesh_free (). */
FwMesh *fw_guide_mesh (const FwGuideSize *size, double chamfer_mm);

/* Diameter, mm, of the pipe that pins and axis are made of. */
double fw_crank_pipe (const FwCrank *crank);
/* The chamfer as made, mm: at most three tenths of the wall. */
double fw_print_chamfer (const FwPrint *print, double wall_mm);

G_END_DECLS
