/* SPDX-License-Identifier: GPL-3.0-or-later
 * cli-private.h - the command: a table of sub-commands, one file each. Thin: run/ does the work.
 */
#pragma once
#include "run/job.h"

typedef struct {
  const char *name;
  const char *summary;                /* one line for the list */
  const char *help;                   /* teaches by example */
  int (*main)(int argc, char **argv); /* argv[0] is the command's name; returns the exit code */
} HfCommand;

extern const HfCommand hf_commands[]; /* ends with a NULL name */

/** Each is main() of one command: @argv[0] is its name. Returns: the exit code of
 *  docs/holdfast.1. */
int hf_command_make(int argc, char **argv);
int hf_command_check(int argc, char **argv);
int hf_command_cure(int argc, char **argv);
int hf_command_look(int argc, char **argv);
int hf_command_new(int argc, char **argv);
int hf_command_recipe(int argc, char **argv);
int hf_command_fonts(int argc, char **argv);
int hf_command_page(int argc, char **argv);
int hf_command_replay(int argc, char **argv);
int hf_command_shop(int argc, char **argv);
int hf_command_coupon(int argc, char **argv);

/** hf_cli_parse: the options of a command by @entries; `--help` prints its help and leaves with 0.
 *  %FALSE after saying on stderr what is wrong with the command line (exit 2). */
gboolean hf_cli_parse(const char *command, const GOptionEntry *entries, int *argc, char ***argv);

#define HF_CLI_UNITS_HELP "tell lengths in mm, in (sixteenths) or in-decimal; else as the recipe"
/** hf_cli_units: what --units says; (nullable) nothing. %FALSE after saying that there is no such
 *  unit (exit 2). */
gboolean hf_cli_units(const char *word, HfUnits *ret_units);

/** hf_cli_fail: prints "holdfast: MESSAGE" on stderr. Returns: the error's exit code */
int hf_cli_fail(const GError *error);

/** hf_cli_colour: colours only on a terminal, and not when NO_COLOR is set. @fd 1 or 2 */
gboolean hf_cli_colour(int fd);

/** hf_cli_leave: ends the program with @code from any thread, after 0.1 s in which the others may
 * end by themselves, and when nothing is half written. Does not return. */
void hf_cli_leave(int code);

/** hf_cli_interrupts: from now on Ctrl-C asks what is returned, which lives as long as the program,
 *  and ends the program soon after (130), also in the midst of work; pressed again it ends it at
 * once. Once, before any other thread begins; a command that does not call it ends at once. */
const HfCancel *hf_cli_interrupts(void);

/* What is said of a drawing by itself: an HfOrder @o. */
#define HF_CLI_ORDER_OPTIONS(o)                                                                    \
  {                                                                                                \
      "metal",    0,                                                                               \
      0,          G_OPTION_ARG_STRING,                                                             \
      &(o).metal, "of a drawing by itself: mild steel, aluminium",                                 \
      "METAL"},                                                                                    \
      {"thickness", 0, 0, G_OPTION_ARG_STRING, &(o).thickness, "its sheet: 3 mm, 1/8 in, 10 ga",   \
       "LENGTH"},                                                                                  \
      {"kerf",  0, 0, G_OPTION_ARG_STRING, &(o).kerf, "as measured; else from the shop file",      \
       "LENGTH"},                                                                                  \
      {"width", 0, 0, G_OPTION_ARG_STRING, &(o).width, "how wide it shall be; else as it says",    \
       "LENGTH"},                                                                                  \
      {"height", 0, 0, G_OPTION_ARG_STRING, &(o).height, "or how high", "LENGTH"},                 \
      {"unit",    0,                                                                               \
       0,         G_OPTION_ARG_STRING,                                                             \
       &(o).unit, "what a unit of a DXF file is: mm, cm, m, in or ft",                             \
       "UNIT"},                                                                                    \
      {"piece", 0, 0, G_OPTION_ARG_STRING, &(o).piece, "only the piece of this name", "NAME"},     \
      {"font",    0,                                                                               \
       0,         G_OPTION_ARG_STRING,                                                             \
       &(o).font, "family for words whose own face is not installed",                              \
       "FAMILY"},                                                                                  \
      {"page", 0, 0, G_OPTION_ARG_STRING, &(o).page, "of a PDF, from 1", "NUMBER"},                \
  {                                                                                                \
    "white", 0, 0, G_OPTION_ARG_STRING, &(o).white,                                                \
        "what its white paint means: opening, metal or nothing", "WHAT"                            \
  }

/** hf_cli_line: (transfer full) `FILE` of a command line to copy, with the options of @order. */
char *hf_cli_line(const char *file, const HfOrder *order);

/* What `make` and `check` share: many recipes on all cores, told in the order they were named. */
typedef struct {
  gboolean make;      /* write outputs */
  gboolean cure;      /* of what is not whole make the best cure */
  HfWishes wishes;    /* of the outputs */
  HfOrder order;      /* of files that are drawings */
  const char *folder; /* to write into */
  const char *shop_file;
  gboolean json, quiet, watch, all;
  gboolean sizes;         /* of every entry, after the verdict */
  HfUnits units;          /* in which lengths are told; unsaid: each recipe in its own */
  const HfCancel *cancel; /* set by hf_cli_batch() */
} HfBatch;

/** hf_cli_batch: returns the highest exit code of all. @files zero-terminated */
int hf_cli_batch(const HfBatch *batch, char **files);
