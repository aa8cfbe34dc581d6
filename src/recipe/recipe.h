/* SPDX-License-Identifier: GPL-3.0-or-later
 * recipe.h - what the customer wants: the recipe as structs (the door of recipe/).
 *
 * Lengths mm, angles radians counter-clockwise from 3 o'clock. A number that was not given is NAN,
 * a text or name that was not given is NULL, a choice that was not given is its first value.
 * One row for each kind of entry (kind.h) drives reading, checking, the printed reference, the JSON
 * Schema and what the page is told.
 */
#pragma once
#include "base/error.h"
#include "base/units.h"
#include "geom/point.h"
#include "stock/finish.h"

#define HF_RECIPE_FORMAT      1
#define HF_RECIPE_MAX_BYTES   (1u << 20)
#define HF_RECIPE_MAX_TEXT    2000 /* characters of one text */
#define HF_RECIPE_MAX_ENTRIES 1000
#define HF_RECIPE_MIN_MM      0.1
#define HF_RECIPE_MAX_MM      10000.0

typedef struct {
  guint line, column; /* from 1; 0 0: not from a file */
} HfMark;

/* A length, or a share of something that the field says (letter height for spacing). */
typedef struct {
  double value; /* mm, or 1.0 = 100 %; NAN when not given */
  gboolean is_share;
} HfMeasure;

/* Where on another entry: a direction (angle), or one of the named places. */
typedef enum {
  HF_SPOT_NONE,
  HF_SPOT_CENTRE,
  HF_SPOT_LEFT_END,
  HF_SPOT_RIGHT_END,
  HF_SPOT_DIRECTION,
  HF_SPOT_POINT,
} HfSpotKind;

typedef struct {
  HfSpotKind kind;
  double angle;  /* DIRECTION: top = pi/2, "11 o'clock" = 2 pi/3 */
  HfPoint point; /* POINT: mm, from the centre of what it is on, or of the sign */
} HfSpot;

typedef enum {
  HF_ENTRY_RING,
  HF_ENTRY_PLATE,
  HF_ENTRY_BAR,
  HF_ENTRY_ARCH,
  HF_ENTRY_WORDS,
  HF_ENTRY_INITIAL,
  HF_ENTRY_SEPARATOR,
  HF_ENTRY_ORNAMENT,
  HF_ENTRY_BORDER,
  HF_ENTRY_DRAWING,
  HF_ENTRY_HOLE,
  HF_ENTRY_HOLES,
  HF_ENTRY_SLOT,
  HF_ENTRY_KEYHOLE,
  HF_ENTRY_EAR,
  HF_ENTRY_FOOT,
  HF_ENTRY_STAKE,
  HF_ENTRY_TIE,
  HF_ENTRY_TIES,
  HF_ENTRY_MEND,
  HF_ENTRY_STUDS,
  HF_ENTRY_ROW,
  HF_ENTRY_STACK,
  HF_N_ENTRY_KINDS
} HfEntryKind;

typedef enum { HF_AS_METAL, HF_AS_OPENING } HfAs;

/* The sheets of metal that a sign may be made of, one behind the other as seen from the front. */
typedef enum {
  HF_LAYER_UNSAID, /* worked out when all is read: recipe/layers.c */
  HF_LAYER_FRONT,
  HF_LAYER_MIDDLE,
  HF_LAYER_BACK,
  HF_N_LAYERS
} HfLayerAt;

/* Placement, the same for all kinds: the entry's own centre goes to `at` of `on` (or of the sign),
 * then beside another one, then `shift`, then `turn` about its own centre. */
typedef struct {
  char *on;                                 /* name of the entry that it is placed on */
  GArray *at;                               /* HfSpot; several make several copies; may be empty */
  char *above, *below, *left_of, *right_of; /* names: beside that entry, boxes `gap` apart */
  double gap;                               /* mm; < 0 overlaps */
  double shift_x, shift_y;                  /* mm; right, up */
  GPtrArray *between; /* char *: in the middle of what is free between these */
  int copies;         /* between: so many, evenly; 0: one */
  double turn;        /* radians */
} HfPlace;

typedef enum {
  HF_PLATE_ROUND,
  HF_PLATE_OVAL,
  HF_PLATE_RECTANGLE,
  HF_PLATE_ROUNDED,
  HF_PLATE_ARCHED,
  HF_PLATE_SHIELD,
  HF_PLATE_POLYGON,
  HF_PLATE_OUTLINE,
  HF_PLATE_BANNER,
  HF_PLATE_TICKET,
  HF_PLATE_BADGE,
  HF_PLATE_ARROW,
  HF_PLATE_SPEECH,
  HF_PLATE_CLOUD,
  HF_PLATE_HEART,
  HF_PLATE_HEXAGONS,
  HF_PLATE_TABBED
} HfPlateShape;

typedef struct {              /* a gauge or thickness is in HfRecipe.metal */
  double outer, inner, width; /* diameters; inner or width */
  GPtrArray *around;          /* or as large inside as goes round these entries */
  double margin;              /* with so much between; NAN: 0 */
} HfRingEntry;

typedef struct {
  HfPlateShape shape;
  double width, height, diameter; /* round and polygon: diameter (circumscribed) */
  double corner;                  /* corner radius */
  int sides;                      /* polygon; badge: lobes, 0: 16 */
  int count;                      /* hexagon row */
  double depth;                   /* banner, ticket, arrow, speech, tabbed; NAN: worked out */
  double rise;                    /* arch-topped: height of the arch over the shoulders */
  double grow;                    /* outline: distance */
  GPtrArray *around; /* outline, margin: names of the entries; empty: all that stand on it */
  double margin[4];  /* as large as leaves so much round them: left, right, top, bottom; NAN: no */
} HfPlateEntry;

typedef struct {
  double length, height, corner;
  double overhang; /* or it reaches so far beyond the words that stand on it, at either end */
} HfBarEntry;

typedef struct {
  double chord, rise, legs, width; /* inner chord, rise over it, leg length, strip width */
  char *over;   /* or name of an arch that this one runs round, about the same centre, */
  double clear; /* with this clear distance, down to the same feet */
} HfArchEntry;

typedef enum { HF_RIGID, HF_BENT } HfLetterForm;
typedef enum { HF_SPACING_AS_GIVEN, HF_SPACING_JOINED, HF_SPACING_PAIRS } HfSpacingRule;
typedef enum { HF_ALIGN_CENTRE, HF_ALIGN_LEFT, HF_ALIGN_RIGHT } HfAlign;
/* What becomes of a tail that is longer than the bar is high: it passes through and shows below the
 * bar, or it joins it and ends inside it. */
typedef enum { HF_DESCENDER_PASSES, HF_DESCENDER_JOINS } HfDescender;
typedef enum {
  HF_GIVE_SPACING,
  HF_GIVE_WIDTH,
  HF_GIVE_BAND,
  HF_GIVE_RING,
  HF_GIVE_HEIGHT
} HfGiveWay;

typedef struct {
  char *family, *style, *file, *axes, *features, *language;
  int way;       /* HfWay of type.h */
  double height; /* letter height: cap height */
  double size;   /* or font size */
  HfMark mark;   /* of the value that names the face */
  double bolder; /* mm that the edge of each letter moves outward all round; < 0: inward */
} HfFontWish;

/* Between which top and bottom line words are drawn out. */
typedef enum {
  HF_SHAPE_NONE,
  HF_SHAPE_OVAL,
  HF_SHAPE_ARCH,
  HF_SHAPE_BANNER,
  HF_SHAPE_RISING,
  HF_SHAPE_DIAMOND
} HfWordsShape;

typedef struct {
  GPtrArray *lines; /* char *: one or several lines */
  HfFontWish font;
  HfSpacingRule spacing_rule;
  HfMeasure spacing;      /* between letters; share of the letter height */
  double joint;           /* joined: joint width wanted; NAN: 1.25 times the limit */
  HfMeasure line_spacing; /* baseline to baseline; share of the letter height */
  HfAlign align;
  HfLetterForm letters;
  /* Where the baseline runs; at most one of: */
  double arc_radius; /* on an arc of this radius (baseline), round `on` or the sign */
  GPtrArray *band;   /* in the band between these two rings (names), at `place.at` */
  char *stand_on;    /* standing on this bar or plate */
  double ellipse_wide, ellipse_high; /* along an ellipse, round `on` or the sign, mm */
  double wave, wave_length;          /* along a wave: trough to crest, crest to crest, mm */
  double arch;      /* on an arc that rises so far over their own width; < 0: hangs; mm */
  char *edge_of;    /* along the edge of this plate, */
  double inset;     /* mm inside it to the tops, or the feet where tops point inward */
  GArray *through;  /* HfPoint: along a smooth curve, mm from their own place */
  double along;     /* mm: their middle so much further along such a line */
  int shaped;       /* HfWordsShape: fills the box between such lines, */
  double depth;     /* mm that the lines are curved; NAN: a quarter of the box */
  int facing;       /* arc, band: 0 by place: tops outward in the upper half, inward in the lower,
                       so that both read from left to right; 1 outward; 2 inward */
  gboolean fill;    /* band: solve letter height and baseline radius */
  double bite;      /* fill, stand on: depth; NAN: half the joint limit, at least 1 mm */
  GArray *give_way; /* HfGiveWay, in order; empty: spacing, width */
  double narrowest; /* share of itself that a letter's width may give way to */
  /* How large they are, where neither height nor size says so; at most one of: */
  double width;               /* the ink of the longest line is so wide */
  char *inside;               /* as large as stays `margin` inside the edge of this entry */
  double margin;              /* mm */
  double box_width, box_high; /* as large as fits a box, mm */
  HfDescender descenders;
} HfWordsEntry;

/* How the letters of a monogram are set. */
typedef enum {
  HF_SET_ALONE, /* one letter; or woven, where `interlace` says so */
  HF_SET_TALL_MIDDLE,
  HF_SET_STACKED,
  HF_SET_CIRCLE,
  HF_SET_DIAMOND,
} HfInitialSet;

typedef struct {
  char *text; /* one letter, or two or three of a monogram */
  HfFontWish font;
  int set;          /* HfInitialSet */
  double gap;       /* set: clear between the letters, mm; < 0: they run into each other by that;
                       NAN: metal is joined, openings leave what a web needs */
  char *fill;       /* name of the ring whose window it fills */
  double bite;      /* meets the ring by this */
  double clear;     /* or stays clear by this */
  char *split_by;   /* name of the words that run across it */
  double split_gap; /* clear gap above and below them, NAN: twice the joint limit; < 0: the halves
                       run into the words by that */
  double split_bar; /* height of two bars that bound the slot: the words bite both by `bite`, each
                       half ends in one; NAN: none */
  double interlace; /* clear gap where letters cross, but for the ties that keep every piece; NAN:
                       not interlaced */
} HfInitialEntry;

typedef struct {   /* of any shape: dot, diamond, star; a shape reads what its fields say */
  double size;     /* diameter or height, tip to tip */
  double width;    /* diamond; NAN: 0.7 of size */
  int points;      /* star */
  double depth;    /* star: inner over outer radius */
  GPtrArray *band; /* char *: in the band between these two rings, at `place.at`; with no size
                      given it is as large as bites both of them, so that it is held */
  double bite;     /* band: depth into each ring; NAN: what the joint width needs */
} HfSeparatorEntry;

typedef struct {
  int form;             /* HfOrnamentForm */
  double height, width; /* one of them; NAN: by the form's own proportion */
  int points;           /* 0: as many as the form has by itself */
  gboolean mirror;
  char *stand_on; /* on this bar or plate */
  double bite;    /* stand on: depth; NAN: what the joint width needs */
} HfOrnamentEntry;

/* What a unit of a file is that doesn't say. */
typedef enum {
  HF_DRAWING_UNIT_UNSAID,
  HF_DRAWING_UNIT_MM,
  HF_DRAWING_UNIT_CM,
  HF_DRAWING_UNIT_M,
  HF_DRAWING_UNIT_IN,
  HF_DRAWING_UNIT_FT,
} HfDrawingUnit;

typedef struct {              /* somebody's file, or the pieces of it that have a name */
  char *file;                 /* in the recipe's own folder */
  char *piece;                /* (nullable) a piece, or a group of them; NULL: all */
  double width, height;       /* mm, of its metal; the other follows; NAN both: as its file says */
  double box_width, box_high; /* or as large as fits, mm */
  char *font;                 /* (nullable) family of words whose own face is not here */
  int unit;                   /* HfDrawingUnit */
  int page;                   /* of a PDF, from 1; 0: the first */
  GPtrArray *metal, *openings, *left_out; /* char *: pieces, groups, layers or blocks by name */
  int white;                              /* HfDrawingWhite */
  gboolean mirror;
} HfDrawingEntry;

typedef enum {
  HF_BORDER_PLAIN,
  HF_BORDER_DOUBLE,
  HF_BORDER_DASHED,
  HF_BORDER_ROPE,
  HF_BORDER_SCALLOP,
  HF_BORDER_NOTCHED,
  HF_BORDER_SCROLLS,
  HF_BORDER_ORNAMENTS
} HfBorderForm;

typedef struct { /* cut in the plate place.on */
  int form;      /* HfBorderForm */
  int of;        /* HfOrnamentForm, of ornaments */
  double inset, width;
  double ties; /* width; NAN: from the limits */
  int count;   /* 0: worked out */
} HfBorderEntry;

/* How wide an opening is that a screw goes through: a length, or by the screw. */
typedef struct {
  double diameter;      /* mm; NAN: by the screw */
  int screw;            /* hf_screw() in stock/screws.h; 0: none is said */
  int fit;              /* HfScrewFit */
  gboolean countersink; /* for its head, to be drilled */
} HfBore;

typedef struct {
  HfBore bore;
  double hanging; /* > 0: the sign hangs by it, 0: it does not, NAN: it does when the sign is
                     mounted by holes */
  double corners; /* mm: one in each corner of what it is on, so far in from both edges; NAN: no */
  double edge;    /* mm: or `count` of them round its edge, so far inside; NAN: no */
  int count;
  double through; /* 0: it stays in its own layer; else it goes through all that it meets */
} HfHoleEntry;

typedef struct { /* with round ends; an opening to be screwed through, and moved along */
  HfBore bore;   /* its width */
  double length; /* from end to end */
  double hanging;
  double through; /* as of a hole */
} HfSlotEntry;

typedef struct { /* a round opening for a screw's head, a slot up from it for the screw */
  double head, shank;
  double length; /* from the middle of the head's opening to where the screw comes to rest */
  double hanging;
} HfKeyholeEntry;

typedef struct {
  HfBore bore;
  double pitch;
  int columns, rows; /* a grid, or */
  int count;         /* so many round a circle */
  double circle;     /* of this diameter */
  gboolean staggered;
  double through; /* as of a hole */
} HfHolesEntry;

typedef struct {
  double hole, width, height; /* hole diameter; width and height of the ear, NAN: from the hole */
} HfEarEntry;

typedef struct {
  double width, height;
} HfFootEntry;

typedef struct {
  double width, length, point; /* point: length of the pointed end */
} HfStakeEntry;

typedef struct {     /* a pin */
  char *letter;      /* "letter 2 of NAME", "2nd A of NAME", or NAME of an entry */
  int opening;       /* which opening of it, from 1; 0: from its outside */
  double em_x, em_y; /* place in the letter's own ems; of another entry: mm from its centre */
  double angle;      /* direction, turned along with the letter or entry */
  double width;      /* NAN: from the limits */
  double
      length; /* NAN: from metal to metal; else so long, centred on its place, whatever is there */
} HfTieEntry;

/* Rules: solved anew each run from the metal of all other entries, see tie/tie.h and mend/mend.h.
 */
typedef enum {
  HF_TIE_USUAL, /* as the shop has it; else any way */
  HF_TIE_ANY,
  HF_TIE_UPRIGHT, /* along the letter's stems; round a ring: towards its centre */
  HF_TIE_LEVEL,   /* along its lines */
  HF_TIE_STROKE,  /* straight across the stroke, wherever that leads */
} HfTieDirection;

/* What is upright to them. */
typedef enum {
  HF_TIE_ALONG_USUAL,  /* as the shop has it; else the line */
  HF_TIE_ALONG_LINE,   /* square to the baseline, in slanted faces too */
  HF_TIE_ALONG_LETTER, /* as the stems of a slanted face lean */
} HfTieAlong;

/* Dots and accents of standing letters. */
typedef enum {
  HF_TIE_DOTS_USUAL, /* as the shop has it; else tied */
  HF_TIE_DOTS_TIED,
  HF_TIE_DOTS_LOWERED, /* moved into their letter */
} HfTieDots;

typedef struct { /* ties wherever a part needs them */
  GPtrArray *of; /* char *: entries or letters ("2nd A of NAME") whose parts are tied; empty: all */
  int direction; /* HfTieDirection */
  int along;     /* HfTieAlong */
  int dots;      /* HfTieDots */
  double width;  /* NAN: 1.25 times the limit */
  int count;     /* at least so many for each part; 0: as many as it needs */
  GArray *keep_free; /* HfSpot, directions: no tie leaves a part within 45 deg of one, as seen from
                        the part's middle in the letter's own frame */
  GPtrArray *not_on; /* char *: entries or letters that no tie touches */
} HfTiesEntry;

typedef struct {    /* thin, small and sharp places put right; none of the four asked for: fill,
                       thicken */
  GPtrArray *of;    /* char *: entries or letters; empty: the whole sign */
  gboolean fill;    /* openings and gaps too small to cut become metal */
  gboolean enlarge; /* openings too small to pierce grow until they can be */
  gboolean thicken; /* webs under the limit get metal along their axis */
  double round;     /* sharp outer points get this radius; NAN: they stay */
} HfMendEntry;

typedef struct {      /* marks of studs behind each piece of metal */
  GPtrArray *of;      /* char *: entries or letters; empty: all metal */
  double diameter;    /* mm */
  double edge, reach; /* mm of metal left round each; no metal is farther from one */
} HfStudsEntry;

/* Where the members of a row stand to each other, and the lines of a stack. */
typedef enum { HF_ROW_BASELINE, HF_ROW_CAPS, HF_ROW_MIDDLE, HF_ROW_TOPS, HF_ROW_FEET } HfRowAlign;
typedef enum { HF_LINES_EQUAL, HF_LINES_BY_HEIGHT, HF_LINES_BY_SPACING } HfJustify;

typedef struct {           /* entries side by side, or one above another, placed as one */
  GPtrArray *of;           /* char *: its members, from the left or the top */
  double gap;              /* mm of air between the ink of neighbours; NAN: see width */
  int align;               /* row: HfRowAlign; stack: HfAlign */
  double width;            /* mm of ink: the whole row, the longest line of the stack */
  int justify;             /* stack with a width: HfJustify */
  char *inside;            /* or as large as stays `margin` inside the edge of this entry */
  double margin;           /* mm */
  gboolean by_area;        /* its middle is that of its area, not of its box */
  gboolean mirrored;       /* left and right change places */
  int columns, rows;       /* several of it: a grid, */
  double pitch_x, pitch_y; /* mm from one to the next, */
  int count;               /* or so many round a circle */
  double circle;           /* of this diameter, their tops outward */
} HfGroupEntry;

/* In which unit a length was written. */
typedef struct {
  const char *key;  /* static: "height" */
  const char *unit; /* static: "mm", "cm", "m" or "in" */
} HfSaid;

typedef struct HfKind HfKind; /* kind.h */

typedef struct {
  HfEntryKind kind;
  const HfKind *row; /* what it may say and what it is; (nullable) where it was not read */
  GArray *said;      /* HfSaid, (nullable) where it was not read */
  char *name;        /* never NULL after reading: given, or "words 2" */
  HfAs as;
  int layer;    /* HfLayerAt, as it says */
  guint layers; /* bits by HfLayerAt: in which it is; of a rule several; 0: in the front */
  HfPlace place;
  HfMark mark;
  union {
    HfRingEntry ring;
    HfPlateEntry plate;
    HfBarEntry bar;
    HfArchEntry arch;
    HfWordsEntry words;
    HfInitialEntry initial;
    HfSeparatorEntry separator;
    HfOrnamentEntry ornament;
    HfBorderEntry border;
    HfDrawingEntry drawing;
    HfHoleEntry hole;
    HfHolesEntry holes;
    HfSlotEntry slot;
    HfKeyholeEntry keyhole;
    HfEarEntry ear;
    HfFootEntry foot;
    HfStakeEntry stake;
    HfTieEntry tie;
    HfTiesEntry ties;
    HfMendEntry mend;
    HfStudsEntry studs;
    HfGroupEntry group;
  };
} HfEntry;

typedef enum {
  HF_MOUNT_NONE,
  HF_MOUNT_HOLES,
  HF_MOUNT_STUDS,
  HF_MOUNT_STAKE,
  HF_MOUNT_WELDED
} HfMount;

/* One override of the law table: key of a limit, value in the limit's own unit. */
typedef struct {
  char *key;
  double value;
  const char *unit; /* static: "mm", "mm2", "deg", "K"; "" when none was said */
  HfMark mark;
} HfLimitOverride;

typedef struct {
  char *finding; /* key of the law */
  char *of;      /* (nullable) name of an entry; NULL: wherever it is */
  char *reason;
  HfMark mark;
} HfAccepted;

/* What was agreed, on which paper. All nullable: nothing was. */
typedef struct {
  char *proof, *revision, *digest;
} HfAgreed;

/* What a layer behind the front is cut from; what it does not say is as in the front. */
typedef struct {
  char *metal;                    /* (nullable) key of a metal in stock/ */
  double thickness, kerf, crater; /* mm; NAN: not given */
  char *row;                      /* (nullable) of the shop's cut chart */
  double behind; /* mm of air between it and the layer before it; NAN: none, it lies flat */
  HfFinish finish;
} HfLayer;

/* How the torch comes to a contour. */
typedef enum {
  HF_WAY_IN_USUAL, /* as is best there: docs/maths.md#starts */
  HF_WAY_IN_ARC,
  HF_WAY_IN_STRAIGHT,
  HF_WAY_IN_MIDDLE, /* straight from the middle of the largest circle in an opening */
} HfWayIn;

/* What is wanted of it. */
typedef struct {
  int in;           /* HfWayIn */
  double length;    /* mm, of the way in; NAN: as usual */
  double leave_off; /* 1: a way out where there is room, 0: none; NAN: as usual */
} HfWayWish;

/* What is wanted of some of the cuts. */
typedef struct {
  char *of;      /* name of an entry, "2nd A of NAME", or what the program calls a cut */
  GArray *start; /* HfSpot, one or none: where it is begun; a point is mm from the sign's centre */
  HfWayWish way;
  HfMark mark;
} HfCutWish;

/* How it is to be cut, where that is said. Names are as in HfCutWish. */
typedef struct {
  HfWayWish way;
  int good_side;                   /* HfCutSide */
  GPtrArray *first, *last, *order; /* char *; of `order` each comes after the one before it */
  GArray *wishes;                  /* HfCutWish; a later one comes before an earlier one */
} HfCutWishes;

/* Which side of travel comes out square. */
typedef enum { HF_CUT_SIDE_SHOP, HF_CUT_SIDE_RIGHT, HF_CUT_SIDE_LEFT } HfCutSide;

typedef struct HfRecipe HfRecipe;
struct HfRecipe {
  char *file; /* as named by the user */
  char *name; /* file name without folder and ending */
  char *sign; /* what the sign is called */
  int format;
  char *metal; /* key of a metal in stock/ */
  double thickness;
  double kerf;   /* NAN: from the shop */
  double crater; /* NAN: from the shop */
  char *row;     /* (nullable) name of the row of the shop's cut chart that is meant */
  HfMark row_mark;
  GArray *limits; /* HfLimitOverride */
  HfMount mount;
  HfFinish finish;
  HfWall wall;      /* behind the sign, in pictures only */
  HfUnits units;    /* in which lengths are told: as it says, else as it says most of its own */
  char *gauge;      /* (nullable) its thickness as it says it, where that is a gauge: "10 ga" */
  double read_from; /* distance, mm; may exceed the 10 m cap of lengths (200 m) */
  gboolean house_number, within_reach;
  GPtrArray *alone; /* char *: names of entries that may stand alone */
  GArray *accept;   /* HfAccepted */
  char *customer, *order_number, *date;
  char *proof, *revision; /* (nullable) of the paper that this will be agreed on */
  HfAgreed agreed;
  int quantity;
  HfCutWishes cut;
  HfLayer layers[HF_N_LAYERS]; /* of the front it is empty */
  GPtrArray *entries;          /* HfEntry *, in order */
  HfRecipe *of; /* (nullable) a recipe as one of its layers sees it: its own metal and process, all
                   else borrowed from this one */
  HfLayerAt in_layer; /* which one; UNSAID: all of them */
  gint others;        /* owners beside the first; atomic */
};

/** hf_recipe_at: entry @i, in the recipe's order. */
static inline const HfEntry *
hf_recipe_at(const HfRecipe *recipe, guint i)
{
  return (const HfEntry *)g_ptr_array_index(recipe->entries, i);
}

/**
 * hf_recipe_read:
 * @file: (nullable) name to call it by in messages and to look for fonts beside
 * Reads YAML or JSON. Returns: (transfer full) a checked recipe, or %NULL: every mistake is
 *   `file:line:column: what was found; what would be right`. The first mistake is in @error, all of
 *   them (at most HF_MAX_MISTAKES), one a line, are in its message.
 */
HfRecipe *hf_recipe_read(const char *text, gsize length, const char *file, GError **error);
/** hf_recipe_read_file: as hf_recipe_read(), of a file of at most HF_RECIPE_MAX_BYTES;
 *  %HF_ERROR_NOT_FOUND, %HF_ERROR_IO, %HF_ERROR_TOO_BIG besides. */
HfRecipe *hf_recipe_read_file(const char *file, GError **error);

/* One mistake of a file. */
typedef struct {
  HfMark mark;
  char *what, *fix;
} HfMistake;
enum { HF_MAX_MISTAKES = 20 }; /* that are told; there may be more */

/** hf_recipe_mistakes: (transfer full) (element-type HfMistake) what hf_recipe_read refuses @text
 *  for, by place; none when it does not. */
GPtrArray *hf_recipe_mistakes(const char *text, gsize length);

/** hf_recipe_name_of: (transfer full) what the outputs of the recipe @file go under: its name
 *  without folder and ending; never `.` or `..`. */
char *hf_recipe_name_of(const char *file);
/** hf_recipe_ref: one more owner, in any thread; each lets go by hf_recipe_free(). */
HfRecipe *hf_recipe_ref(HfRecipe *recipe);
void hf_recipe_free(HfRecipe *recipe);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfRecipe, hf_recipe_free)

/** hf_recipe_entry: (transfer none) (nullable) the entry called @name. */
const HfEntry *hf_recipe_entry(const HfRecipe *recipe, const char *name);
/** hf_recipe_group: index of the row or stack that has entry @i as a member; -1: none has. O(n). */
gint hf_recipe_group(const HfRecipe *recipe, guint i);
/** hf_recipe_is_called: is entry @i called @name, or a member, however deep, of what is? */
gboolean hf_recipe_is_called(const HfRecipe *recipe, guint i, const char *name);
/* ---- layers (layers.c) ---------------------------------------------------------------------- */

/** hf_layer_word: "front", "middle", "back". */
const char *hf_layer_word(HfLayerAt layer);
/** hf_layer_of_word: the one that is called so; UNSAID: none is. */
HfLayerAt hf_layer_of_word(const char *word);
/** hf_entry_is_in: is @entry in @layer (UNSAID: in any)? Of a rule: does it work there? */
gboolean hf_entry_is_in(const HfEntry *entry, HfLayerAt layer);
/** hf_entry_layer: the layer of @entry, of a rule the first that it works in. */
HfLayerAt hf_entry_layer(const HfEntry *entry);
/** hf_recipe_layers: bits by HfLayerAt: the layers that have an entry that is no rule. O(n). */
guint hf_recipe_layers(const HfRecipe *recipe);
/** hf_recipe_is_layered: is it made of more than one? Of a recipe as one layer sees it: no. */
gboolean hf_recipe_is_layered(const HfRecipe *recipe);
/** hf_recipe_in_layer: (transfer full) @recipe as @layer sees it: the metal and process of that
 *  layer, held by @mount; shares the rest. Without a kerf of its own a layer of the front's metal
 *  and thickness has the front's, another one the shop's. */
HfRecipe *hf_recipe_in_layer(HfRecipe *recipe, HfLayerAt layer, HfMount mount);

enum { HF_AGREED_LEAST = 16, HF_AGREED_ROOM = 65 };
/** hf_drawing_unit_mm: mm of a HfDrawingUnit; 0: unsaid. */
double hf_drawing_unit_mm(int unit);

/** hf_agreed_digits: the hexadecimal digits of a digest as somebody copied it, with its hyphens and
 *  spaces; @most: room, with the zero. Returns: how many; 0: it is none, or has fewer than
 *  %HF_AGREED_LEAST. */
gsize hf_agreed_digits(const char *said, char *ret_digits, gsize most);

/** hf_recipe_is_made: was it made of a drawing by itself (order.h)? Then `file` is the drawing,
 * what is wrong has no line, and is mended by options of the command. */
gboolean hf_recipe_is_made(const HfRecipe *recipe);
/** hf_recipe_where: (transfer full) `boats.yaml:4:9` */
char *hf_recipe_where(const HfRecipe *recipe, HfMark mark);

/** hf_bore_mm: how wide it is, mm. */
double hf_bore_mm(const HfBore *bore);
/** hf_keyhole_length: mm; as much as the head is wide, where it is not said. */
double hf_keyhole_length(const HfKeyholeEntry *keyhole);
/** hf_entry_bore: (nullable) (transfer none) of a hole, a pattern of holes or a slot; %NULL: it has
 *  none. */
const HfBore *hf_entry_bore(const HfEntry *entry);

/** hf_entry_unit: (transfer none) the unit in which @entry says @key: "mm", "cm", "m" or "in". Of a
 *  key that it does not say that of its first length, else that in which lengths are told
 * (base/units.h). */
const char *hf_entry_unit(const HfEntry *entry, const char *key);

/** hf_unit_mm: mm in one of the units that hf_entry_unit() gives. */
double hf_unit_mm(const char *unit);
/** hf_entry_is_named: was it given a name? "words 2" is what the reader calls one that was not. */
gboolean hf_entry_is_named(const HfEntry *entry);

/** hf_recipe_length: one length as a recipe says it: `3 mm`, `1/8 in`, and `10 ga` where @metal
 *  (nullable, a key of stock/) says whose gauge. @ret_mm in mm. */
gboolean hf_recipe_length(const char *text, const char *metal, double *ret_mm, GError **error);

/** hf_recipe_reference: (transfer full) the printed reference, one example of each field. */
char *hf_recipe_reference(void);
/** hf_recipe_schema: (transfer full) the JSON Schema (draft 2020-12) of a recipe. */
char *hf_recipe_schema(void);
/** hf_recipe_kinds: (transfer full) what the page is told of every kind and field, as JSON: type,
 *  sign, roles, words (recipe/kinds-told.c). */
char *hf_recipe_kinds(void);
/** hf_recipe_shown: (transfer full) a recipe whose metal shows what @choice is, as heart of the
 * field form of an ornament; %NULL: there is no such choice, or its field is not one of shapes. */
char *hf_recipe_shown(const char *kind, const char *key, const char *choice);
/** hf_recipe_starter: (transfer full) a commented recipe for @kind of sign, %NULL when unknown.
 *  hf_recipe_starter_kinds: (array zero-terminated=1) a kind, then a line on it, and so on. */
char *hf_recipe_starter(const char *kind);
const char *const *hf_recipe_starter_kinds(void);
