/* SPDX-License-Identifier: GPL-3.0-or-later
 * finish.h - what the metal's surface becomes, and the wall behind it: colours, looks, coats.
 *
 *   {powder coat: RAL 9005} ──> HfFinish ──hf_finish_surface()──> HfSurface: tones, light, texture
 *
 * Everything that draws or tells a finish goes through this table, for a sign or for one of its
 * layers.
 */
#pragma once
#include <glib.h>

typedef struct {
  int number;       /* 9005 */
  guint rgb;        /* 0xrrggbb */
  const char *name; /* "jet black" */
} HfRal;

/** hf_ral: (transfer none) (nullable) the colour of the RAL Classic card @number. */
const HfRal *hf_ral(int number);
/** hf_ral_at: (nullable) row @i of the table, from 0. */
const HfRal *hf_ral_at(guint i);

/* A colour as somebody said it. All zero: none was said. */
typedef struct {
  gboolean said;
  guint rgb;        /* 0xrrggbb */
  int ral;          /* 9005; 0: it is none of RAL */
  const char *name; /* (nullable) (static) "jet black", "dark green" */
} HfColour;

/** hf_colour_read: "RAL 9005", "dark green", "#1f3d2b". %FALSE: it is none; @ret_near (nullable) is
 *  then (transfer none) (nullable) the name that is nearest. */
gboolean hf_colour_read(const char *text, HfColour *ret_colour, const char **ret_near);
/** hf_colour_names: (transfer none) zero-terminated: all that have a name of ours. */
const char *const *hf_colour_names(void);
/** hf_colour_text: (transfer full) "RAL 9005 (jet black)", "dark green", "#1F3D2B". */
char *hf_colour_text(const HfColour *colour);
/** hf_colour_mix: @a with @share (0..1) of @b in it, channel by channel. */
guint hf_colour_mix(guint a, guint b, double share);
/** hf_colour_is_dark: does white stand out on it more than black? */
gboolean hf_colour_is_dark(guint rgb);

typedef enum {
  HF_FINISH_UNSAID,
  HF_FINISH_RAW,
  HF_FINISH_OILED,
  HF_FINISH_RUSTED,
  HF_FINISH_BRUSHED,
  HF_FINISH_POWDER,
  HF_FINISH_PAINT,
  HF_N_FINISHES
} HfFinishKind;

/* All zero: nobody said. */
typedef struct {
  HfFinishKind kind;
  HfColour powder, paint; /* the one that it is said */
  double coat;            /* mm on each side; NAN or 0: as usual for its kind */
} HfFinish;

/** hf_finish_word: (nullable) (static) "raw", "powder coat"; %NULL: unsaid. */
const char *hf_finish_word(HfFinishKind kind);
/** hf_finish_takes_colour: is its colour to be said? */
gboolean hf_finish_takes_colour(HfFinishKind kind);
/** hf_finish_colour: (transfer none) its colour; of a bare finish one that nobody said. */
const HfColour *hf_finish_colour(const HfFinish *finish);
/** hf_finish_coat: mm that it adds to each surface, hence to each edge of a hole; 0: none. */
double hf_finish_coat(const HfFinish *finish);
/** hf_finish_usual_coat: mm, where none is said. */
double hf_finish_usual_coat(HfFinishKind kind);
/** hf_finish_rusts: can @metal (key of stock/) be left to rust? */
gboolean hf_finish_rusts(const char *metal);
/** hf_finish_text: (transfer full) (nullable) "powder coat RAL 9005 (jet black)"; %NULL: unsaid. */
char *hf_finish_text(const HfFinish *finish);

typedef enum { HF_TEXTURE_NONE, HF_TEXTURE_BRUSHED, HF_TEXTURE_RUST } HfTexture;

/* How metal looks in the light of the picture, 0xrrggbb. */
typedef struct {
  guint tones[3];    /* its face from above downwards */
  guint light, dark; /* along its edges */
  HfTexture texture;
} HfSurface;

/** hf_finish_surface: of @metal (key of stock/; any other looks like mild steel). */
HfSurface hf_finish_surface(const HfFinish *finish, const char *metal);

typedef enum {
  HF_WALL_UNSAID, /* plaster */
  HF_WALL_PLASTER,
  HF_WALL_WHITEWASH,
  HF_WALL_BRICK,
  HF_WALL_STONE,
  HF_WALL_OAK,
  HF_WALL_SLATE,
  HF_WALL_HEDGE,
  HF_WALL_COLOUR, /* plain */
  HF_N_WALLS
} HfWallKind;

typedef struct {
  HfWallKind kind;
  HfColour colour; /* of a plain one */
} HfWall;

/** hf_wall_read: "brick", or a colour as hf_colour_read(). %FALSE: neither. */
gboolean hf_wall_read(const char *text, HfWall *ret_wall, const char **ret_near);
/** hf_wall_words: (transfer none) zero-terminated: the materials. */
const char *const *hf_wall_words(void);
/** hf_wall_text: (transfer full) "brick", "RAL 1015 (light ivory)". */
char *hf_wall_text(const HfWall *wall);
/** hf_wall_tone: 0xrrggbb: what it is from afar. */
guint hf_wall_tone(const HfWall *wall);
