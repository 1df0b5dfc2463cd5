/* Where the timber that carries crank, guide and rods stands on the base plate. The views draw it,
 * the templates drill for it. World mm. */
#pragma once

#include <glib.h>

#include "core/mechanism.h"

G_BEGIN_DECLS

/* Side, mm, of the square timber of the bearings' legs; columns are 0.8 of it. */
double fw_stand_timber (const FwDesign *design);

/* A point by its station on the crank axis, h and z, mm. */
FwVec3 fw_stand_place (const FwDesign *design, double station, double h, double z);

/* How far, mm, before and behind the crank axis the legs of a bearing stand (h). */
double fw_stand_leg (const FwDesign *design);

/* Where on the crank axis the body rides: a station, mm. */
double fw_stand_body_station (const FwMechanism *mechanism);
/* Half the distance, mm, between the two columns of what guides or carries it. */
double fw_stand_half (const FwDesign *design);

/* The two columns, each `half` mm aside, that hold something at (station, h), mm, as (station, h): straight below where the
 * crank does not swing, else behind the swing, or, with the crank along, beyond its ends. Says how. */
typedef enum { FW_CARRIED_STRAIGHT, FW_CARRIED_BEHIND, FW_CARRIED_BRIDGE } FwCarried;
FwCarried fw_stand_columns (const FwDesign *design, double station, double h, double half,
                            FwVec2 columns[2]);

/* Side of the upright under a rod's anchor on the base, and where it stands on the plate. */
double fw_stand_upright (const FwDesign *design);
FwVec2 fw_stand_anchor (const FwDesign *design, FwVec3 at);

G_END_DECLS
