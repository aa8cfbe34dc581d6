/* SPDX-License-Identifier: GPL-3.0-or-later
 * format.h - the table of formats: whatever `make` may write has its row beside its writer.
 *
 *   meson.build   'svg', ──┐
 *   svg.c         HF_FORMATS(svg, {.ending = ".svg", ...}) ──┴──> hf_format(0), hf_format(1), ...
 *
 * A format is one file, and one line in meson.build. Everything else that has to know of it asks
 * this table: what is made and in which order, what is left of an earlier run and removed, the
 * options and the help of `make`, completion, the page's list, the media types it serves.
 *
 * A row gives the ending of its file's name, never the name: the stem comes from what the file is
 * about and from the verdict, so no format can leave outlines of a whole sign beside a verdict of
 * not whole.
 */
#pragma once
#include "out/cutting.h"
#include "out/out.h"

/* What a file is about. They are written in this order: the report carries the digests of all the
 * others, so it is last. */
typedef enum {
  HF_ABOUT_OUTLINES,  /* what is cut: metal, or not-to-be-cut when the sign is not whole */
  HF_ABOUT_PROGRAM,   /* what the table does: only where reading it back leaves the sign */
  HF_ABOUT_PLAN,      /* that, as a picture */
  HF_ABOUT_PROOF,     /* what the customer agrees to */
  HF_ABOUT_SHEET,     /* what the bench needs */
  HF_ABOUT_TRAVELLER, /* what the table needs: with each program */
  HF_ABOUT_TEMPLATE,  /* what is drilled behind it: template, or not-to-be-drilled when it is not
                         whole */
  HF_ABOUT_CURED,     /* the recipe that was made, where it is not the user's own */
  HF_ABOUT_REPORT,    /* what was found out */
  HF_N_ABOUT
} HfAbout;

/* What a writer is given. All borrowed. */
typedef struct {
  const HfSign *sign;     /* with its true arcs; for outlines one layer, to be cut */
  HfLayerAt layer;        /* which; UNSAID: the sign is one sheet, or it is of all of them */
  guint pixels;           /* of a picture's longer side, 200..8000 */
  const HfCancel *cancel; /* (nullable) for writers that take long */
  HfPaper paper;
  GBytes *cured; /* (nullable) the recipe, where it is not the user's own */
  const HfCutting
      *cutting;      /* (nullable) how the layer is cut; there is none of what is not whole */
  HfReportMore told; /* of the report alone: cures, and all the other files */
} HfMaking;

typedef struct HfFormat HfFormat;
/** HfWriteFunc: (transfer full) the bytes of the file, or %NULL with the error. May be called in a
 *  thread of its own. */
typedef GBytes *(*HfWriteFunc)(const HfMaking *making, const HfFormat *format, GError **error);

struct HfFormat {
  HfAbout about;
  const char *ending; /* ".svg", "-in.dxf": all that follows the stem */
  const char *type;   /* media type */
  const char *says;   /* what is in it, in a few words, for the page */
  const char *option; /* (nullable) made only on this word of `make --also`; several may share it */
  gboolean inches;
  gboolean picture; /* a browser can show it: it stands for the others about the same */
  gboolean rest;    /* only where the program is to go on from some cut */
  gboolean slow;    /* is made beside the others, and comes behind those about the same */
  HfWriteFunc write;
};

/* The rows of the file @name, in the order in which people are told of them. */
#define HF_FORMATS(name, ...) const HfFormat hf_formats_##name[] = {__VA_ARGS__, {0}}

/** hf_format: row @i of the table, from 0; %NULL behind its end. */
const HfFormat *hf_format(guint i);

/** hf_about_each_layer: has each layer a file of its own about it? Of the sheets, not of the sign.
 */
gboolean hf_about_each_layer(HfAbout about);

/** hf_format_name: (transfer full) "metal.svg", "not-to-be-cut.svg", "back-metal.svg": the name of
 *  its file. @layer: UNSAID or the front: no layer in it. */
char *hf_format_name(const HfFormat *format, HfLayerAt layer, gboolean whole);

/** hf_format_says: what is in it; of outlines that must not be cut, why they are called so. */
const char *hf_format_says(const HfFormat *format, gboolean whole);

/** hf_format_is_made: is there anything to write? @also: a bit for each row that was asked for. */
gboolean hf_format_is_made(guint i, const HfMaking *making, guint64 also);

/** hf_about_says: what files about @about are, for the help of a command. */
const char *hf_about_says(HfAbout about);

/** hf_format_earlier: (transfer full) (element-type char *) every name that a file of any run, also
 *  of another version, may have: what one run does not make, an earlier one may have left. */
GPtrArray *hf_format_earlier(void);
