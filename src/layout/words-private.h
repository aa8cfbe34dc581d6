/* SPDX-License-Identifier: GPL-3.0-or-later
 * words-private.h - what the files about words share: letters as rigid bodies, the baseline they
 * stand on, and where each of them is put.
 *
 *      own frame of the words             straight: x along the baseline, y up
 *       H   A   R                         round:    origin at the centre of the circle, the text's
 *      _|___|___|_  baseline                        middle at 12 o'clock (tops outward) or at
 *       s0  s1  s2  middles of advances             6 o'clock (tops inward)
 *
 * A letter is one cluster: an accent is part of its letter and turns with it. Letters stay in
 * ems until they are placed, so that a solver can try heights without shaping again.
 */
#pragma once
#include "layout/layout-private.h"

typedef struct {
  HfOutline *outline; /* ems, origin at the letter's pen on the baseline; NULL: a space */
  HfBox ink;          /* ems, same origin; empty for a space */
  HfOutline *drawn;   /* (nullable) as the face has it, where `outline` is bolder or lighter */
  double pen;         /* ems from the start of its line, no spacing counted */
  double advance;     /* ems */
  guint line;
  guint cluster;    /* where in the text it begins, bytes */
  const char *text; /* as typed */
  char *label;      /* `2nd letter 'R' of "HARBOUR"` */
} HfLetter;

typedef struct {
  guint first, n; /* its letters */
  double advance; /* ems, no spacing counted */
  HfBox ink;      /* ems, no spacing counted */
  double length;  /* ems: how long its ink is as the face has it */
} HfLetterLine;

/* All the letters of one words entry. */
typedef struct {
  const HfFace *face;
  GPtrArray *shaped;      /* HfLine * */
  GArray *letters;        /* HfLetter, in visual order, line after line */
  GArray *lines;          /* HfLetterLine */
  double cap;             /* ems: what `letter height` measures */
  double top, foot;       /* ems: level of the letters' tops and feet, for placing by the middle */
  const HfCancel *cancel; /* (nullable) of whoever lays them */
} HfWording;

static inline HfLetter *
hf_wording_letter(const HfWording *wording, guint i)
{
  return &g_array_index(wording->letters, HfLetter, i);
}

static inline HfLetterLine *
hf_wording_line(const HfWording *wording, guint i)
{
  return &g_array_index(wording->lines, HfLetterLine, i);
}

/** hf_wording_goes_on: %FALSE: it is to be stopped, whatever comes of it. */
static inline gboolean
hf_wording_goes_on(const HfWording *wording)
{
  return hf_cancel_check(wording->cancel, NULL);
}

/** hf_wording_has_ink: has any of its letters an outline? There are more blanks than the space bar
 *  gives, and characters that only steer the text. */
static inline gboolean
hf_wording_has_ink(const HfWording *wording)
{
  for (guint i = 0; i < wording->letters->len; i++)
    if (hf_wording_letter(wording, i)->outline != NULL)
      return TRUE;
  return FALSE;
}

/** hf_wording_lean: rad that the stems of its face lean to the right. */
static inline double
hf_wording_lean(const HfWording *wording)
{
  return wording->face != NULL ? hf_face_lean(wording->face) : 0;
}

/** hf_wording_new: shapes @lines (char *). @spaced: letter spacing is wanted, so optional ligatures
 *  are off unless the recipe asks for them. Adds the face to the layout's list. */
HfWording *hf_wording_new(HfLaying *laying, guint entry, GPtrArray *lines, const HfFontWish *font,
                          gboolean spaced, GError **error);
/** hf_wording_from_line: the same from one line that is shaped already (taken); for tests. */
HfWording *hf_wording_from_line(HfLine *line);
/** hf_wording_empty: no letters yet. */
HfWording *hf_wording_empty(void);
/** hf_wording_bolder: moves the edge of every letter outward by @by mm at @size mm an em and letter
 *  width @wide, always from the letters as the face has them: to be called anew when a solver has
 *  found another size. %FALSE: nothing would be left of a letter. */
gboolean hf_wording_bolder(HfLaying *laying, guint entry, HfWording *wording, double by,
                           double size, double wide, GError **error);
/** hf_wording_free: frees it and all that it owns; %NULL: nothing. */
void hf_wording_free(HfWording *wording);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfWording, hf_wording_free)

/* How the letters are put on their baseline. */
typedef struct {
  double size;     /* mm an em */
  double wide;     /* letter width, 1.0 = as designed */
  double spacing;  /* mm between neighbours, one for all */
  double *pairs;   /* (nullable) mm between letter i and i + 1, instead of `spacing` */
  double radius;   /* mm; 0: a straight baseline */
  gboolean inward; /* round: tops toward the centre, text runs counter-clockwise */
  gboolean bent;   /* letters follow the arc */
} HfSetting;

/** hf_setting_spacing: mm that are added between letter @i and the next of its line. */
double hf_setting_spacing(const HfSetting *setting, const HfWording *wording, guint i);

/** hf_setting_along: (transfer full) for each letter the distance along its baseline from the start
 *  of its line to its pen, mm. */
double *hf_setting_along(const HfSetting *setting, const HfWording *wording);

/* ---- arc.c -------------------------------------------------------------------------------- */

/** hf_arc_letter: the frame of a rigid letter whose pen is @along mm from the start point at the
 *  polar angle @from: the middle of its advance stands on the circle at that arc length, its
 *  midline through the centre (SVG 2, text on a path). */
HfMatrix hf_arc_letter(const HfSetting *setting, const HfLetter *letter, double along, double from);

/** hf_arc_angle: polar angle of the place @along mm from the start point. */
double hf_arc_angle(const HfSetting *setting, double along, double from);

/** hf_arc_extent: widens @least..@greatest by the polar angles of @outline's ink, counted so that
 *  they lie within half a turn of @near. Exact on the true curves. */
void hf_arc_extent(const HfOutline *outline, double near, double *least, double *greatest);

/* ---- bent.c ------------------------------------------------------------------------------- */

/** hf_bent_outline: (transfer full) the letter with x along the circle and y along its radius;
 *  lines and cubics become cubics within 1 um of their true image. @along, @from: as above. */
HfOutline *hf_bent_outline(const HfLetter *letter, const HfSetting *setting, double along,
                           double from);

/* ---- lines.c: letters placed in the words' own frame --------------------------------------- */

typedef struct {
  HfMatrix em;        /* from the letter's ems to the own frame (bent: as if it were rigid) */
  HfOutline *outline; /* own frame, mm; NULL: a space */
  HfOutline *drawn;   /* (nullable) as the face has it, where `outline` is bolder or lighter */
  double height;      /* mm of cap height, where it is not that of all; else 0 */
} HfPlacedLetter;

typedef struct {
  GArray *letters;   /* HfPlacedLetter, one a letter of the wording */
  HfBox box;         /* exact, own frame */
  double half_angle; /* on a circle: half the angle that the widest line's ink takes */
} HfPlaced;

/** hf_place_straight: straight lines, one under the other, aligned by their ink; the origin is the
 *  middle of the ink across, and half way between tops and feet. @leading: baseline to baseline. */
HfPlaced *hf_place_straight(const HfWording *wording, const HfSetting *setting, double leading,
                            HfAlign align);

/** hf_box_straight: the box of what hf_place_straight() places, without placing it; exact but for
 *  rounding. O(letters). */
HfBox hf_box_straight(const HfWording *wording, const HfSetting *setting, double leading);

/** hf_line_ink: least and greatest x of the ink of line @line, mm from its start, @along as
 *  hf_setting_along() gives it. %FALSE, both 0: it has none. */
gboolean hf_line_ink(const HfWording *wording, const HfSetting *setting, const double *along,
                     guint line, double *ret_min, double *ret_max);

/** hf_place_round: lines on circles, the first on setting->radius, each centred by its ink: the
 *  polar angles of its first and last ink point lie equally far from 12 o'clock (from 6 o'clock
 *  when tops are inward). The origin is the centre. */
HfPlaced *hf_place_round(const HfWording *wording, const HfSetting *setting, double leading);
/** hf_placed_free: frees it and all that it owns; %NULL: nothing. */
void hf_placed_free(HfPlaced *placed);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HfPlaced, hf_placed_free)

/** hf_placed_new: (transfer full) @n places of letters, all of them spaces as yet. */
HfPlaced *hf_placed_new(guint n);
/** hf_placed_set: puts letter @i where @em says. */
void hf_placed_set(HfPlaced *placed, guint i, const HfLetter *letter, HfMatrix em);

static inline HfPlacedLetter *
hf_placed_letter(const HfPlaced *placed, guint i)
{
  return &g_array_index(placed->letters, HfPlacedLetter, i);
}

/* ---- joined.c ------------------------------------------------------------------------------ */

/* Pairs that no spacing joins widely enough. */
typedef struct {
  guint n;
  guint first;   /* its first letter: of the one that comes out narrowest */
  double widest; /* mm: the most that it gives */
} HfTooNarrow;

/** hf_join_letters: (transfer full) for each letter the mm to add before its right neighbour so
 *  that the joint between them is at least @wanted mm wide; never more than 0; nothing at spaces.
 *  @by_pair: each pair its own, else one for all letters and figures. @ret_needs: (transfer full)
 *  what each pair of letters and figures needs by itself. */
double *hf_join_letters(const HfWording *wording, const HfSetting *setting, double wanted,
                        gboolean by_pair, double **ret_needs, HfTooNarrow *ret_too_narrow);

/* ---- words.c ------------------------------------------------------------------------------- */

/* A words entry while it is laid. */
typedef struct {
  HfLaying *laying;
  guint entry;
  const HfWordsEntry *words;
  const HfPlace *place;
  HfWording *wording;
  HfSetting setting;
  double leading; /* mm, baseline to baseline */
  double spaced;  /* mm between letters, as a solver left it; NAN: as the recipe says */
  double *pairs;  /* owned: what setting.pairs points to */
  double *needs;  /* owned: joined: what each pair needs by itself */
  HfTooNarrow too_narrow;
} HfWordsLaying;

/** hf_words_add: adds the placed letters as shapes of the entry, moved by @frame. */
void hf_words_add(HfWordsLaying *own, const HfPlaced *placed, HfMatrix frame, guint copy);

/** hf_words_put: adds the placed letters, moved by @move, where the recipe places them by their
 * box, once a copy; tells joints. */
gboolean hf_words_put(HfWordsLaying *own, const HfPlaced *placed, HfMatrix move, GError **error);
/** hf_words_go_round: %FALSE with %HF_ERROR_NO_ROOM: a line is longer than its whole circle. */
gboolean hf_words_go_round(HfWordsLaying *own, GError **error);
/** hf_words_fix_length: (transfer full) what would fit @room where the words are @length mm long;
 *  @otherwise: what else would help, as "a larger radius". */
char *hf_words_fix_length(const HfWordsLaying *own, double length, double room,
                          const char *otherwise);

/** hf_words_solved: tells what a solver found. */
void hf_words_solved(HfWordsLaying *own, HfSolvedWhat what, double value);

/** hf_words_settle_spacing: spacing and leading, once size and radius are known. */
void hf_words_settle_spacing(HfWordsLaying *own);
/** hf_words_fit: letter height, spacing or letter width such that the words are as wide as the
 * recipe says, or as large as stays inside the entry or box that it names. %FALSE with
 * %HF_ERROR_NO_ROOM (it says what would fit). words-fit.c, docs/maths.md#fit */
gboolean hf_words_fit(HfWordsLaying *own, GError **error);
/** hf_words_are_fitted: does the recipe leave their size to hf_words_fit()? */
gboolean hf_words_are_fitted(const HfWordsLaying *own);
/* mm an em of a first try, and of words whose size a group makes. */
#define HF_FIRST_EM 100.0
/** hf_words_give_way: what gives way, in order; @ret_n: how many. As the recipe says, else the
 *  usual. */
const HfGiveWay *hf_words_give_way(const HfWordsEntry *words, guint *ret_n);
/** hf_words_straight_width: mm of ink of the longest line of words (any entry), straight, in the
 *  size and spacing that they get. NAN with the error: they can't be set. */
double hf_words_straight_width(HfLaying *laying, guint entry, GError **error);

/** hf_words_tell_joined: joints of every pair, the spacing, pairs that stay too narrow. */
void hf_words_tell_joined(HfWordsLaying *own, guint first_shape);

/** hf_words_joint: mm: joint width wanted between letters. */
double hf_words_joint(const HfWordsLaying *own);

/** hf_words_add_pairs: adds a joint for each two neighbours among the shapes from @first_shape. */
void hf_words_add_pairs(HfWordsLaying *own, guint first_shape);

/** hf_words_bite: mm: as in the recipe, else half the joint limit but at least 1 mm. */
double hf_words_bite(const HfWordsLaying *own, double given);

/* Words on a circle: how many copies, in which direction each stands, whether its tops are inward,
 * and the frame that brings it there. */
guint hf_words_n_copies(const HfWordsLaying *own);
/** hf_words_direction: radians counter-clockwise from 3 o'clock, of copy @copy. %FALSE with
 *  %HF_ERROR_BAD_VALUE: it is given as a point. */
gboolean hf_words_direction(const HfWordsLaying *own, guint copy, double *ret_direction,
                            GError **error);
/** hf_words_is_inward: do tops point to the centre at @direction? As the recipe says, else so
 *  that words read from left to right. */
gboolean hf_words_is_inward(const HfWordsEntry *words, double direction);
/** hf_words_frame: from the words' own frame (words-private.h, top) to that of the sign: 12
 *  o'clock, or 6 o'clock where @inward, goes to @direction about @centre. */
HfMatrix hf_words_frame(HfWordsLaying *own, HfPoint centre, double direction, gboolean inward);
