/* SPDX-License-Identifier: GPL-3.0-or-later
 * cutting.h - how one sheet is cut, as the writers are given it: plan, program, and what the
 * program was read back to leave.
 *
 *   paths ──> plan ──> text ──> read back ──> replay ──> good: it is written
 *                                                   └──> not: why_not, and no program
 */
#pragma once
#include "base/json.h"
#include "cut/times.h"
#include "replay/replay.h"
#include "sign/sign.h"

typedef struct {
  HfLayerAt layer;    /* UNSAID: the sign is one sheet */
  double kerf;        /* mm */
  HfPaths *paths;     /* (nullable) never without a plan but where there is none */
  HfPlan *plan;       /* (nullable) */
  HfPoint at;         /* what is added to the sign's places for the program's */
  HfBox design;       /* where the metal lies on the sheet, mm */
  double thickness;   /* mm */
  char *metal;        /* key of stock/ */
  HfCutRow row;       /* its name is the shop's */
  HfPlanTimes *times; /* (nullable) as the plan */
  char *text;         /* (nullable) the program */
  char *rest;         /* (nullable) the same from the cut on that was asked for */
  HfProgram *program; /* (nullable) the text, read as a stranger reads it */
  HfReplay *replay;   /* (nullable) what it leaves, against the sign */
  GArray *found;      /* HfCutFound: what the check of the sign could not know */
  char *why_not;      /* (nullable) a sentence: there is no program that may be cut */
} HfCutting;

/** hf_cutting_free: with all that it owns; %NULL: nothing. */
void hf_cutting_free(HfCutting *cutting);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfCutting, hf_cutting_free)

/** hf_cutting_is_good: is there a program, and does it leave the sign? */
gboolean hf_cutting_is_good(const HfCutting *cutting);

/** hf_cutting_time: (transfer full) "6 min 10 s", "5 to 8 min": as far as it is known. */
char *hf_cutting_time(HfRange seconds);
/** hf_cutting_feed: (transfer full) "2600 mm/min, your process (cut chart)", or the starting value
 * with its range and that a test cut is due. */
char *hf_cutting_feed(const HfCutting *cutting);

/** hf_cutting_why: (transfer full) why cut @i begins where it does, and why now: "begins on a
 *  straight edge, by an arc; nearest of the openings left". Cost O(cuts). */
char *hf_cutting_why(const HfCutting *cutting, guint i);

/** hf_cutting_write: @cutting as an object of report.json's `cut`. */
void hf_cutting_write(HfJson *json, const HfCutting *cutting);
