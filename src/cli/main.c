/* SPDX-License-Identifier: GPL-3.0-or-later
 * main.c - finds the sub-command and hands over. Exit codes: docs/holdfast.1.
 */
#include "base/beside.h"
#include "base/seen.h"
#include "base/text.h"
#include "cli/cli-private.h"
#include "stock/cautions.h"
#include <errno.h>
#include <fcntl.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

const HfCommand hf_commands[] = {
    {"make", "make a sign: outlines, proof, report",
     "holdfast make RECIPE... [-o DIR]\n"
     "\n"
     "Lays the sign out, checks that every part is held and can be cut, and writes into\n"
     "DIR/NAME/ (DIR is 'out' unless -o says otherwise, NAME is the recipe's file name):\n"
     "{outputs}"
     "\n"
     "  holdfast make boats.yaml                 one sign into out/boats/\n"
     "  holdfast make orders/*.yaml -o monday    many, on all cores\n"
     "  holdfast make boats.yaml --watch         again whenever the recipe is saved\n"
     "  holdfast make boats.yaml --also dxf-inch --paper letter\n"
     "  holdfast make boats.yaml --cure best     if it is not whole: with the cure that is seen\n"
     "                                           least; its recipe goes into cured.yaml\n"
     "  holdfast make heron.svg --metal 'mild steel' --thickness '3 mm' --kerf '1.5 mm'\n"
     "                                           a drawing by itself, SVG, DXF, PDF or a picture, "
     "without a "
     "recipe\n",
     hf_command_make},
    {"check", "say whether a sign is whole, write nothing",
     "holdfast check RECIPE...\n"
     "\n"
     "  holdfast check boats.yaml          the verdict in plain words\n"
     "  holdfast check boats.yaml --json   the same as a report\n"
     "  holdfast check *.yaml --quiet      only the exit code: 0 whole, 1 not whole\n"
     "  holdfast check heron.svg --metal 'mild steel' --thickness '3 mm' --kerf '1.5 mm' --width "
     "'400 mm'\n"
     "                                     a drawing by itself, without a recipe\n",
     hf_command_check},
    {"cure", "list what would make a sign whole, and take one of it",
     "holdfast cure RECIPE [--take N | --best] [-o FILE]\n"
     "\n"
     "Tries changes to the recipe: ties, letters closer or bolder, a ring moved, thin places "
     "mended\n"
     "and more; each with the least that cures, alone and combined. Every cure is checked in full\n"
     "before it is listed. What is seen least comes first. RECIPE itself is never changed.\n"
     "\n"
     "  holdfast cure boats.yaml                      the list\n"
     "  holdfast cure boats.yaml --pictures look      with pictures, before and after, in look/\n"
     "  holdfast cure boats.yaml --take 2 -o boats-tied.yaml\n"
     "  holdfast cure boats.yaml --best > boats-whole.yaml\n"
     "  holdfast make boats.yaml --cure best          cure and make in one go\n"
     "  holdfast cure heron.svg --metal 'mild steel' --thickness '3 mm' --best -o heron.yaml\n"
     "                                                a drawing by itself; makes a recipe of it\n"
     "\n"
     "Exit codes are those of 'make' on the cured recipe; of the list, those of RECIPE.\n",
     hf_command_cure},
    {"look", "say what is in a drawing's file, draw it, begin a recipe with it",
     "holdfast look FILE [--picture FILE.svg] [--recipe FILE.yaml]\n"
     "\n"
     "Reads an SVG, DXF, PDF, PNG or JPEG file as it is and says what was found: how large its "
     "metal is, its "
     "pieces\n"
     "by name, what white paint may mean, what was left out, mended or is in doubt, and where.\n"
     "\n"
     "  holdfast look heron.svg                       in words\n"
     "  holdfast look heron.svg --picture look.svg    metal filled, each doubt marked\n"
     "  holdfast look heron.svg --recipe heron.yaml   a recipe to start from, beside the drawing\n"
     "  holdfast look gate.dxf --unit in --piece leaf --recipe leaf.yaml\n",
     hf_command_look},
    {"new", "write a commented recipe to start from",
     "holdfast new KIND [FILE]\n"
     "\n"
     "  holdfast new                         the kinds there are\n"
     "  holdfast new name boats.yaml         a recipe to edit\n"
     "\n"
     "An existing file is never overwritten. The recipe says 1.5 mm kerf: measure yours.\n",
     hf_command_new},
    {"recipe", "print what a recipe can say, with an example of each field",
     "holdfast recipe [--schema | --shop-schema]\n"
     "\n"
     "  holdfast recipe | less\n"
     "  holdfast recipe --schema > recipe.schema.json   for an editor that completes and checks\n",
     hf_command_recipe},
    {"fonts", "list the installed fonts, draw them, tell how small each can be cut",
     "holdfast fonts [WORD]\n"
     "\n"
     "  holdfast fonts                        every family with its styles\n"
     "  holdfast fonts lobster                those with 'lobster' in the name, with their axes\n"
     "  holdfast fonts --picture faces.png --text 'Saltmarsh Quay'\n"
     "  holdfast fonts --symbols --picture symbols.png\n"
     "  holdfast fonts bebas --smallest --thickness '3 mm' --kerf '1.5 mm'\n"
     "                                        smallest letter height, and the letter that "
     "decides\n",
     hf_command_fonts},
    {"replay", "read a cutting program back: what metal does it leave?",
     "holdfast replay PROGRAM --kerf LENGTH [--against RECIPE]\n"
     "\n"
     "Reads RS-274/NGC (docs/program.md), whoever wrote it, takes half a kerf to either side of "
     "each\n"
     "path that the torch burns along, and says what is left: whether the sign is one part and as\n"
     "designed, what is cut that should not be, what comes loose too early.\n"
     "\n"
     "  holdfast replay boats.nc --kerf '1.5 mm'           what is left, by itself\n"
     "  holdfast replay boats.nc --against boats.yaml      is it the sign? with the recipe's kerf\n"
     "  holdfast replay boats.nc --against boats.yaml --picture left.svg\n"
     "\n"
     "Motion is taken as programmed: what a machine rounds off at corners is not seen. Exit codes: "
     "0\n"
     "nothing found, 1 do not cut it, 2 the program or the command line is wrong.\n",
     hf_command_replay},
    {"shop", "print the table, the cut chart and the metals, and check a shop file",
     "holdfast shop [FILE]\n"
     "\n"
     "Says what holdfast takes for your table and process, from FILE or the shop file that is "
     "found:\n"
     "what the table can, the rows of your chart, starting values where you have none, and the "
     "metals\n"
     "with their sources. A row that physics makes unlikely gets a caution.\n"
     "\n"
     "  holdfast shop                  the shop file of this folder, or of your config folder\n"
     "  holdfast shop shop.yaml        this one\n"
     "  holdfast recipe | less         what a shop file can say, key by key, at the end\n"
     "\n"
     "Starting values are worked out, not measured: make a test cut.\n",
     hf_command_shop},
    {"coupon", "make a test piece, and learn kerf and limits from it",
     "holdfast coupon --metal METAL --thickness LENGTH [--kerf LENGTH] [-o DIR]\n"
     "holdfast coupon --learn FILE\n"
     "\n"
     "Makes a plate with rows of webs, slots, holes and openings, each smaller than the one before "
     "it\n"
     "and marked with its size, and a window to measure the kerf by. Cut it, look at it, and write "
     "the\n"
     "smallest of each row that came out well into the file of results. From then on findings of "
     "that\n"
     "metal and thickness say 'your process', with the date.\n"
     "\n"
     "  holdfast coupon --metal 'mild steel' --thickness '3 mm' --kerf '1.4 mm'\n"
     "                                          recipe, program and papers into coupon/\n"
     "  holdfast coupon --learn coupon/coupon-results.yaml\n"
     "                                          into the shop file that is found\n"
     "  holdfast page coupon/coupon.yaml        or click what came out on its picture\n"
     "\n"
     "Cutting: mind eyes, fire, fumes, noise, shock, hot parts and sharp edges; local codes and\n"
     "licensed practice come first.\n",
     hf_command_coupon},
    {"page", "open the page: type a sign, see the metal, cure it",
     "holdfast page [RECIPE]\n"
     "\n"
     "Serves the page to this machine's own browser and opens it. Nobody else can reach it. It "
     "ends\n"
     "with Ctrl-C, or a minute after the last page was closed; what was not saved comes back when\n"
     "the recipe is opened again.\n"
     "\n"
     "  holdfast page                          choose a recipe of this folder, or begin a new "
     "sign\n"
     "  holdfast page boats.yaml               this one\n"
     "  holdfast page --folder ~/orders        also what lies there\n",
     hf_command_page},
    {NULL, NULL, NULL, NULL},
};

static const HfCommand *
find_command(const char *name)
{
  for (const HfCommand *command = hf_commands; command->name != NULL; command++)
    if (strcmp(command->name, name) == 0)
      return command;
  return NULL;
}

/* What did not reach its file, a cured recipe perhaps, is lost: the exit code has to say so. */
static int
printed(int code)
{
  if (fflush(stdout) == 0 && ferror(stdout) == 0)
    return code;
  g_printerr("holdfast: what was printed is not complete: %s; make room on the disk, or name a "
             "file with -o\n",
             errno != 0 ? g_strerror(errno) : "it could not be written");
  return MAX(code, 3);
}

static void
print_help(void)
{
  g_print("holdfast: from words to metal that holds\n\n"
          "Start here:\n"
          "  holdfast new name boats.yaml   a recipe to edit\n"
          "  holdfast make boats.yaml       the sign, its proof and the verdict in out/boats/\n\n"
          "Commands (holdfast COMMAND --help shows examples):\n");
  for (const HfCommand *command = hf_commands; command->name != NULL; command++)
    g_print("  %-8s %s\n", command->name, command->summary);
  g_print("\nExit codes: 0 whole, 1 not whole, 2 the recipe or the command line is wrong,\n"
          "3 it could not be done, 130 stopped by you.\n\n%s\n",
          hf_caution_line());
}

/* {outputs}: what is made, told from the table of formats. */
static void
print_teaching(const char *help)
{
  g_auto(GStrv) parts = g_strsplit(help, "{outputs}", 2);
  g_autofree char *outputs = parts[1] != NULL ? hf_wish_outputs_help() : NULL;
  g_print("%s%s%s\n", parts[0], outputs != NULL ? outputs : "", outputs != NULL ? parts[1] : "");
}

/* GLib leaves the `--` behind which everything is a file in its place. */
static void
drop_end_of_options(int *argc, char **argv)
{
  for (int i = 1; i < *argc; i++)
    if (strcmp(argv[i], "--") == 0) {
      memmove(&argv[i], &argv[i + 1], (gsize)(*argc - i) * sizeof argv[0]); /* and the NULL */
      (*argc)--;
      return;
    }
}

gboolean
hf_cli_parse(const char *command, const GOptionEntry *entries, int *argc, char ***argv)
{
  for (int i = 1; i < *argc && strcmp((*argv)[i], "--") != 0; i++)
    if (strcmp((*argv)[i], "--help") == 0 || strcmp((*argv)[i], "-h") == 0) {
      print_teaching(find_command(command)->help);
      for (const GOptionEntry *e = entries; e->long_name != NULL; e++) {
        g_autofree char *option = g_strdup_printf(
            "%s--%s %s", e->short_name != 0 ? (char[]){'-', e->short_name, ',', ' ', 0} : "    ",
            e->long_name, e->arg_description != NULL ? e->arg_description : "");
        g_print("  %-26s %s\n", option, e->description);
      }
      exit(printed(0));
    }
  g_autoptr(GOptionContext) context = g_option_context_new(NULL);
  g_option_context_add_main_entries(context, entries, NULL);
  g_option_context_set_help_enabled(context, FALSE);
  g_autoptr(GError) error = NULL;
  if (g_option_context_parse(context, argc, argv, &error)) {
    drop_end_of_options(argc, *argv);
    return TRUE;
  }
  /* GLib begins with a capital, we do not */
  g_printerr("holdfast: %c%s; see 'holdfast %s --help'\n", g_ascii_tolower(error->message[0]),
             error->message + 1, command);
  return FALSE;
}

int
hf_cli_fail(const GError *error)
{
  g_printerr("holdfast: %s\n", error->message);
  return hf_error_exit_code(error);
}

gboolean
hf_cli_colour(int fd)
{
  const char *no = g_getenv("NO_COLOR"), *term = g_getenv("TERM");
  return isatty(fd) && (no == NULL || *no == '\0') && g_strcmp0(term, "dumb") != 0;
}

static int
unknown_command(const char *name)
{
  const char *names[G_N_ELEMENTS(hf_commands)];
  for (gsize i = 0; i < G_N_ELEMENTS(hf_commands); i++)
    names[i] = hf_commands[i].name;
  const char *near = hf_text_nearest(name, names);
  g_autofree char *list = hf_text_list(names, "or");
  g_autofree char *shown = hf_seen_value(name);
  if (near != NULL)
    g_printerr("holdfast: there is no command '%s'; did you mean '%s'?\n", shown, near);
  else
    g_printerr("holdfast: there is no command '%s'; there is %s\n", shown, list);
  return 2;
}

/* A file that is written must not get the number of a closed stdout, and what is printed with it.
 */
static void
hold_standard_files(void)
{
  int fd;
  do
    fd = open("/dev/null", O_RDWR);
  while (fd >= 0 && fd <= STDERR_FILENO);
  if (fd >= 0)
    close(fd);
}

/* The one door to the terminal for names and texts of others; what is meant for a program (JSON, a
 * recipe) or sets the cursor is written by fputs. */
static void
print_seen(FILE *file, const char *text)
{
  g_autofree char *shown = hf_seen(text, TRUE);
  fputs(shown, file);
}

static void
on_print(const char *text)
{
  print_seen(stdout, text);
}

static void
on_printerr(const char *text)
{
  print_seen(stderr, text);
}

/* What a machine may run out of, by what GLib says before it ends the program. */
static const struct {
  const char *said, *words;
} spent[] = {
    {"failed to allocate", "holdfast: there is not enough memory; close other programs, raise the "
                           "limit (ulimit -v), or make the sign in parts\n"},
    {"creating thread", "holdfast: the system has no thread left; close other programs, or raise "
                        "the limit (ulimit -u)\n"},
};

/* Nobody's bug: it is said, with the exit code of what could not be done. Nothing here asks for
 * memory; what is half written is swept by the next run. */
static void
on_log(const char *domain, GLogLevelFlags level, const char *message, gpointer data)
{
  for (gsize i = 0; i < G_N_ELEMENTS(spent); i++)
    if ((level & G_LOG_FLAG_FATAL) != 0 && strstr(message, spent[i].said) != NULL) {
      (void)!write(STDERR_FILENO, spent[i].words, strlen(spent[i].words));
      _exit(3);
    }
  g_log_default_handler(domain, level, message, data);
}

/* Libraries that draw do not look whether they got their memory. */
static void
on_fault(int number G_GNUC_UNUSED)
{
  (void)!write(STDERR_FILENO, spent[0].words, strlen(spent[0].words));
  _exit(3);
}

/* Under a limit on memory, and only there, a fault is taken for the end of it. */
static void
mind_limit_on_memory(void)
{
  static const int faults[] = {SIGSEGV, SIGBUS, SIGABRT};
  if (!hf_beside_memory_is_limited())
    return;
  hf_beside_own_stack();
  struct sigaction action = {.sa_handler = on_fault, .sa_flags = SA_ONSTACK};
  for (gsize i = 0; i < G_N_ELEMENTS(faults); i++)
    (void)sigaction(faults[i], &action, NULL);
}

int
main(int argc, char **argv)
{
  hold_standard_files();
  g_log_set_default_handler(on_log, NULL);
  mind_limit_on_memory();
  signal(SIGXFSZ, SIG_IGN); /* a file that may not be larger is an error like a full disk */
  g_set_print_handler(on_print);
  g_set_printerr_handler(on_printerr);
  setlocale(LC_CTYPE, "");
  g_setenv("PANGO_LANGUAGE", "en", TRUE); /* the same Han face for everybody */
  signal(SIGPIPE, SIG_DFL);
  if (argc < 2 || strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
    print_help();
    return printed(argc < 2 ? 2 : 0);
  }
  if (strcmp(argv[1], "--version") == 0) {
    g_print("holdfast %s\n", HF_VERSION);
    return printed(0);
  }
  const HfCommand *command = find_command(argv[1]);
  return command == NULL ? unknown_command(argv[1]) : printed(command->main(argc - 1, argv + 1));
}
