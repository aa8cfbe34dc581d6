/* SPDX-License-Identifier: GPL-3.0-or-later
 * hold.h - is every part held, and can it be cut? (the door of hold/)
 */
#pragma once
#include "base/cancel.h"
#include "hold/law.h"
#include "metal/metal.h"
#include "thin/thin.h"

/* One thing the checks have to say. Findings that are alike are gathered: `places` has them all. */
typedef struct {
  HfLawKind kind;
  HfGravity gravity;
  double measured, limit; /* in the law's unit; the worst of the gathered; NAN where none */
  HfSaidBy said_by;
  const char *coupon;       /* as HfLimit.coupon */
  HfPoint at;               /* the worst place */
  GArray *places;           /* HfPoint, the worst first; at least one */
  guint count;              /* how many were gathered: places->len */
  GPtrArray *names;         /* char *: labels of the shapes, at most 8, the worst first */
  GArray *entries;          /* guint: the recipe's entries that take part, the worst first */
  const char *form;         /* static, (nullable) "neck", "loop", "tail", "enclosed", "open" */
  double area, mass, reach; /* of what hangs beyond or is loose or lost: mm2, kg, mm; NAN: none */
  HfBox box;                /* of it; empty: none */
  char *where, *what, *fix; /* in the user's words; `where` is %NULL for the sign as a whole */
  char *text;               /* the sentence: WHERE: WHAT; FIX */
  GPtrArray *each;          /* char *: of every place, the worst first: WHO: MEASURED, at [X, Y] */
  char *accepted;           /* (nullable) the recipe's reason */
  HfLayerAt layer;          /* of a sign of several layers: in which it is */
  gboolean not_come_to;     /* a rule that mends ended before it came to it */
} HfFinding;

/* A connected region of metal, once every joint under the joint limit is counted as open. */
typedef struct {
  double area, mass; /* mm2, kg */
  HfPoint centroid;
  HfBox box;
  gboolean body, loose, alone; /* alone: named in `alone` */
  char *name;                  /* after the largest shapes in it */
  GArray *shapes;              /* guint, sorted */
  gboolean hung;               /* hanging points or feet are on it */
  guint outer;                 /* its outer ring, in hold->cut, or in the metal when that is NULL */
  gboolean of_alone;           /* made of nothing but what is named in `alone`, or of its dots */
} HfPart;

/* A web under the caution limit, or a joint; for report and page. */
typedef struct {
  HfPoint at, foot_a, foot_b; /* narrowest place and where its circle touches */
  double width;               /* mm */
  double length;              /* mm of axis under the caution limit */
  const char *form;           /* static: neck, loop, tail */
  gboolean joint;             /* different shapes meet here */
  guint shape_a, shape_b;
  guint first_spot,
      n_spots; /* its middle line, in hold->spots; none: metal is pinched to a point */
} HfWeb;

/* Where a stud goes that a rule asks for; no metal changes. */
typedef struct {
  HfPoint at;
  double diameter; /* mm */
  guint entry;     /* the rule */
  guint part;      /* of HfHold.parts */
} HfStud;

/* How the sign hangs. */
typedef struct {
  guint n;        /* hanging points */
  double turn;    /* radians that the sign turns by, counter-clockwise; NAN: does not apply */
  HfPoint centre; /* of mass of the part that hangs or stands; of all metal when it is not one */
  GArray *shares; /* double: each point's share of the weight, in order of layout->hangs; empty: not
                     checked */
} HfHanging;

typedef struct {
  gboolean parts_only; /* nothing else was looked at: `whole` and `findings` say nothing */
  gboolean whole;
  guint layers;        /* of several sheets joined: how many; else 0 */
  GPtrArray *findings; /* HfFinding *, gravest first, then by law, then by place */
  GArray *parts;       /* HfPart, largest first */
  HfRegion *cut; /* (nullable) the metal, cut along every joint that counts as open; such a cut
                    has two edges without a source, there and back */
  GArray *webs;  /* HfWeb, thinnest first */
  GArray *spots; /* HfWebSpot */
  GArray *shown; /* double, by shape of the layout: mm of the metal's edge that it made, or that its
                    mending made; empty: there is no metal */
  HfHanging hanging;
  GArray *studs; /* HfStud, by rule, then by part */
  HfLimit limits[HF_N_LAWS];
  double figures[HF_N_FIGURES];
  HfProcess process;
  double area, mass, cut_length; /* mm2, kg, mm */
  guint pierces;                 /* one per ring */
  HfPoint centroid;
  HfBox box;
  gint others; /* owners beside the first; atomic */
} HfHold;

/**
 * hf_hold_check:
 * All borrowed. Runs every check of the law table.
 * Returns: (transfer full), or %NULL with %HF_ERROR_CANCELLED
 * Cost: about three unions of the same polygons where nothing is thin, 17 us for each edge near
 *   thin metal on top.
 */
HfHold *hf_hold_check(const HfRecipe *recipe, const HfShop *shop, const HfLayout *layout,
                      const HfMetal *metal, const HfCancel *cancel, GError **error);
/** hf_hold_parts: (transfer full) as hf_hold_check(), of its results only the parts, with the cuts
 * and webs that they hang on, limits and figures: for a sign that a rule for ties goes on from.
 * Cost: a fifth to a half of that, no gap and no letter is looked at. */
HfHold *hf_hold_parts(const HfRecipe *recipe, const HfShop *shop, const HfLayout *layout,
                      const HfMetal *metal, const HfCancel *cancel, GError **error);
/**
 * hf_hold_joined:
 * @holds: of @n layers, all of each check; @layers: which they are; @shapes: how many shapes the
 *   layout of each has
 * Returns: (transfer full) the check of the sign that they make together: whole when each is. Its
 *   findings say in which layer they are; parts, webs and spots are those of all, their shapes
 *   counted in the joined layout (hf_layout_joined()); figures are sums; how it hangs is as of
 *   the layer that carries the sign; process and limits are the first one's
 */
HfHold *hf_hold_joined(const HfHold *const *holds, const HfLayerAt *layers, const guint *shapes,
                       guint n);
/** hf_hold_part_of: (transfer full) the check @own of one layer with verdict and findings of @all
 *  that it was joined into: shares the rest. */
HfHold *hf_hold_part_of(const HfHold *own, const HfHold *all);
/* What was found when the sign was planned and its program read back. All borrowed. */
typedef struct {
  HfLawKind kind;    /* HF_LAW_NO_WAY_IN, ..._PROGRAM_DIFFERS or ..._DOUBT */
  HfPoint at;        /* sign's frame; NAN: nowhere */
  HfLayerAt layer;   /* of a sign of several: in which; else UNSAID */
  const char *where; /* (nullable) "letter 'A' of \"BAKERY\"" */
  const char *says;  /* what is wrong with it */
} HfCutFound;
/** hf_hold_with_found: (transfer full) @hold with @n findings more: not whole where one is a stop.
 */
HfHold *hf_hold_with_found(const HfHold *hold, const HfRecipe *recipe, const HfCutFound *found,
                           guint n);
/** hf_hold_ref: one more owner, in any thread; each lets go by hf_hold_free(). */
HfHold *hf_hold_ref(HfHold *hold);
void hf_hold_free(HfHold *hold);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfHold, hf_hold_free)

/** hf_hold_digest: (transfer full) SHA-256, 64 digits, of what the customer sees of a sign (see
 *  agreed-digest.c): the same for the same outlines to 0.01 mm, metal, finish and mount. O(n log
 * n).
 */
char *hf_hold_digest(const HfRecipe *recipe, const HfProcess *process, const HfRegion *metal);
/** hf_hold_is_agreed: is @digest the one that the recipe says was agreed? %TRUE too where it says
 *  none. */
gboolean hf_hold_is_agreed(const HfRecipe *recipe, const char *digest);

/** hf_hold_join_agreed: adds the finding to @all, the check of the several sheets of @recipe, where
 *  @digest (of all of them) is not the one that was agreed. */
void hf_hold_join_agreed(HfHold *all, const HfRecipe *recipe, const char *digest);

/* How small a shape may be cut. */
typedef struct {
  double scale;   /* least; INFINITY: it is too thin somewhere at any size */
  HfLawKind kind; /* the limit that decides; %HF_N_LAWS when the least size asked about will do */
  HfPoint at;     /* where, in the shape's own measure */
  gboolean tip;   /* it has a tip of metal so sharp that it burns back at any size; `scale`
                     leaves that out */
} HfSmallest;

/**
 * hf_hold_smallest:
 * @shape: a clean region, a letter for instance
 * @cut_through: it is an opening in a plate, else it is metal
 * @shop: (nullable) its limits count
 * @at_least: > 0; smaller scales are not looked at
 * Returns: the least scale, to 0.1 % and never below, at which every web (metal), every gap and
 *   every enclosed opening of @shape meets its stop. Says nothing of what its parts hang by.
 * Cost: two axes (17 us an edge), then little for each size tried.
 */
HfSmallest hf_hold_smallest(const HfRegion *shape, gboolean cut_through, const HfProcess *process,
                            const HfShop *shop, double at_least);
