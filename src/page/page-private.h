/* SPDX-License-Identifier: GPL-3.0-or-later
 * page-private.h - what the files of the server share.
 *
 *   gate.c     who is let in: Host, Origin, the key, the secret place
 *   visitors.c sockets: how many, how long, how much
 *   calls.c    the table of addresses; calls-*.c answer them
 *   reader.c   reads and edits the text in a thread of its own
 *   worker.c   runs the newest text in a thread of its own
 *   events.c   tells every open page what is new
 *   document.c the one text
 *
 * All but the run itself happens in the main loop, one thing at a time.
 */
#pragma once
#include "base/file.h"
#include "page/document-private.h"
#include "page/page.h"
#include "recipe/tree.h"
#include "run/job.h"
#include "stock/cautions.h"
#include <gio/gio.h>
#include <json-glib/json-glib.h>
#include <libsoup/soup.h>
#include <string.h>

typedef struct HfWorker HfWorker;
typedef struct HfEvents HfEvents;
typedef struct HfReader HfReader;
typedef struct HfGate HfGate;
typedef struct HfVisitors HfVisitors;
typedef struct HfLater HfLater;
typedef struct HfLatest HfLatest;
typedef struct HfKept HfKept;
typedef struct HfSamples HfSamples;
typedef struct HfStarters HfStarters;
typedef struct HfSearching HfSearching;

typedef struct {
  const HfPageOptions *options;
  GMainLoop *loop;
  SoupServer *server;
  HfGate *gate;
  HfEvents *events;
  HfReader *reader;
  HfWorker *worker;
  HfLater *later;
  HfLatest *latest;
  HfKept *kept; /* the job that was made */
  HfSamples *samples;
  HfStarters *starters;
  HfSearching *searching;
  char *state;          /* folder of journals */
  char *home;           /* folder that the server was started in, or that of the recipe */
  GPtrArray *folders;   /* char *: absolute; home comes first */
  HfDocument *document; /* (nullable) nothing is open yet */
  guint64 revision;     /* counts every change of every document, so that no two are alike */
  guint64 told;         /* counts what is told, so that a page knows which of two came first */
  GBytes *view;         /* (nullable) the last good one */
  guint64 view_of;      /* the revision it shows */
  guint64 run_of;       /* the revision that was run last, whatever came of it */
  GError *trouble; /* (nullable) why the newest text gave no view, beyond what reading it says */
  GFileMonitor *monitor;
  guint disk_check, sync; /* sources; 0: none */
  HfDisk disk;
} HfPage;

/* ---- gate.c ---- */
HfGate *hf_gate_new(HfPage *page, GError **error);
/** hf_gate_free: its door file goes too; %NULL: nothing. */
void hf_gate_free(HfGate *gate);
const char *hf_gate_address(const HfGate *gate); /* with the one-time key */
/** hf_gate_let_in: (nullable) what @message asks for, from the `/` behind the secret place on, when
 *  it was found good before its body was read; else it has been refused. Every handler asks, so
 *  that one on a new path is not open by oversight. */
const char *hf_gate_let_in(const HfGate *gate, SoupServerMessage *message, const char *path);
/** hf_gate_door: (transfer full) the address of a file, readable by this user alone, that leads a
 *  browser to the address with the key; it goes when the key was used. %NULL with the error. */
char *hf_gate_door(HfGate *gate, GError **error);
/** hf_gate_close_door: removes the file of hf_gate_door(); nothing when there is none. */
void hf_gate_close_door(HfGate *gate);
/** hf_gate_visitors: (transfer none) the sockets behind this gate. */
HfVisitors *hf_gate_visitors(const HfGate *gate);

/* ---- visitors.c ---- */
HfVisitors *hf_visitors_new(SoupServer *server);
/** hf_visitors_free: connections are the library's to close; %NULL: nothing. */
void hf_visitors_free(HfVisitors *visitors);
/** hf_visitors_let_in: this one knows the secret: it is not sent off for a newer one. */
void hf_visitors_let_in(HfVisitors *visitors, SoupServerMessage *message);
/** hf_visitors_serving: this exchange may take as long as it likes (a page that listens, a long
 * run). */
void hf_visitors_serving(HfVisitors *visitors, SoupServerMessage *message);
/** hf_visitors_gives: its connection is about to be taken away: it is somebody else's to close. */
void hf_visitors_gives(HfVisitors *visitors, SoupServerMessage *message);
gsize hf_visitors_most_body(SoupServerMessage *message); /* bytes */

/* ---- answer.c ---- */
/** hf_answer_head: the headers that every answer has. */
void hf_answer_head(SoupServerMessage *message);
/** hf_answer: @bytes with @status as @type (media type); ends the exchange. */
void hf_answer(SoupServerMessage *message, guint status, const char *type, GBytes *bytes);
/** hf_answer_json: what was written into @json (taken, closed); ends the exchange. */
void hf_answer_json(SoupServerMessage *message, guint status, HfJson *json);
/** hf_answer_error: {"error": ...}; @status 0: by the kind of error. */
void hf_answer_error(const HfPage *page, SoupServerMessage *message, guint status,
                     const GError *error);
/** hf_answer_refusal: {"error": {@what, @fix}}; @fix nullable; no word of the document. */
void hf_answer_refusal(SoupServerMessage *message, guint status, const char *what, const char *fix);
/** hf_answer_write_error: the object of an error, with line, column and path where it has them. */
void hf_answer_write_error(HfJson *json, const char *key, const HfPage *page, const GError *error);
/** hf_ask: (transfer full) the body as an object; %NULL with the error: not JSON, or nested beyond
 *  reason. */
JsonObject *hf_ask(SoupServerMessage *message, GError **error);
/** hf_ask_read: as hf_ask(), of @text; no text is an empty object. */
JsonObject *hf_ask_read(const char *text, gsize length, GError **error);
/** hf_ask_text: (transfer none) (nullable) the text under @key; %NULL: there is none, or it
 *  is no text. */
const char *hf_ask_text(JsonObject *ask, const char *key);
/** hf_ask_flag: is there a true under @key? */
gboolean hf_ask_flag(JsonObject *ask, const char *key);

/* ---- calls.c ---- */
void hf_calls_add(HfPage *page);
/* What is asked of a call. All borrowed. */
typedef struct {
  SoupServerMessage *message;
  const char *rest;  /* of an address whose row ends in `/`: what comes after */
  GHashTable *query; /* (nullable) */
  JsonObject *body;  /* of what writes; NULL: it only reads, or the body is no JSON */
} HfAsked;
typedef void (*HfCall)(HfPage *page, const HfAsked *asked);
/** hf_call_is_current: is it about the document as it is now? Else it has been answered: 400, or
 * 409 with the state. */
gboolean hf_call_is_current(HfPage *page, SoupServerMessage *message, JsonObject *ask);
/** hf_call_conflict: 409 with the state: it was about a document that is no longer like that. */
void hf_call_conflict(HfPage *page, SoupServerMessage *message);
/** hf_call_changed: the end of each call that may have changed the text. */
void hf_call_changed(HfPage *page, SoupServerMessage *message, gboolean done, const GError *error);
/** Each answers one address, now or when its work is done: docs/page.md, "Calls", says what it
 * takes and gives. None keeps what is borrowed in @asked. */
void hf_call_disk(HfPage *page, const HfAsked *asked);
void hf_call_state(HfPage *page, const HfAsked *asked);
void hf_call_edit(HfPage *page, const HfAsked *asked);
void hf_call_text(HfPage *page, const HfAsked *asked);
void hf_call_undo(HfPage *page, const HfAsked *asked);
void hf_call_redo(HfPage *page, const HfAsked *asked);
void hf_call_save(HfPage *page, const HfAsked *asked);
void hf_call_reload(HfPage *page, const HfAsked *asked);
void hf_call_open(HfPage *page, const HfAsked *asked);
void hf_call_recipes(HfPage *page, const HfAsked *asked);
void hf_call_starters(HfPage *page, const HfAsked *asked);
void hf_call_kinds(HfPage *page, const HfAsked *asked);
void hf_call_cautions(HfPage *page, const HfAsked *asked);
void hf_call_fonts(HfPage *page, const HfAsked *asked);
void hf_call_font_svg(HfPage *page, const HfAsked *asked);
void hf_call_font(HfPage *page, const HfAsked *asked);
void hf_call_outputs(HfPage *page, const HfAsked *asked);
void hf_call_output(HfPage *page, const HfAsked *asked);
void hf_call_zip(HfPage *page, const HfAsked *asked);
void hf_call_make(HfPage *page, const HfAsked *asked);
void hf_call_starter_svg(HfPage *page, const HfAsked *asked);
void hf_call_choice_svg(HfPage *page, const HfAsked *asked);
void hf_call_cures(HfPage *page, const HfAsked *asked);
void hf_call_cure_svg(HfPage *page, const HfAsked *asked);
void hf_call_take(HfPage *page, const HfAsked *asked);
void hf_call_coupon(HfPage *page, const HfAsked *asked);
void hf_call_learn(HfPage *page, const HfAsked *asked);

/* ---- search.c ---- */
HfSearching *hf_searching_new(HfPage *page);
/** hf_searching_free: stops the search and waits for it; %NULL: nothing. */
void hf_searching_free(HfSearching *searching);
/** hf_searching_stop: the text is another now: what was found is forgotten. */
void hf_searching_stop(HfSearching *searching);

/* ---- latest.c ---- */
/* The text of the document as it was at one revision: what a thread works on. */
typedef struct {
  guint64 revision;
  char *file, *text;
  gsize length;
} HfVersion;
/** hf_version_of: (transfer full) a copy of what is open now. */
HfVersion *hf_version_of(const HfPage *page);
/** hf_version_free: the copy goes. */
void hf_version_free(HfVersion *version);
/** hf_latest_new: (transfer full) no sign is there yet. */
HfLatest *hf_latest_new(void);
/** hf_latest_free: nobody waits any more. */
void hf_latest_free(HfLatest *latest);
/** hf_latest_put: what @revision came to; in the worker's thread. @sign %NULL: @error says why. */
void hf_latest_put(HfLatest *latest, guint64 revision, const HfSign *sign, const GError *error);
/** hf_latest_job: (transfer full) a job of @version's sign: of the one that is shown, where that is
 *  its revision. In any thread but the worker's; waits. %NULL with the error. */
HfJob *hf_latest_job(HfLatest *latest, const HfVersion *version, HfWishes wishes,
                     const HfCancel *cancel, GError **error);

/* ---- calls-fonts.c: faces that stay open ---- */
HfSamples *hf_samples_new(void);
/** hf_samples_free: closes them; nobody draws any more. */
void hf_samples_free(HfSamples *samples);

/* ---- calls-starter.c: pictures that were drawn ---- */
HfStarters *hf_starters_new(void);
/** hf_starters_free: nobody draws any more. */
void hf_starters_free(HfStarters *starters);

/* ---- calls-out.c ---- */
HfKept *hf_kept_new(void);
/** hf_kept_unref: one owner less; %NULL: nothing. */
void hf_kept_unref(HfKept *kept);
/** hf_kept_forget: the text is another now. */
void hf_kept_forget(HfKept *kept);

/* ---- later.c ---- */
/** HfWorkFunc: in another thread; @data is a copy. (transfer full) the answer, or %NULL with the
 *  error. @ret_type: JSON unless it says otherwise. */
typedef GBytes *(*HfWorkFunc)(gpointer data, const char **ret_type, const HfCancel *cancel,
                              GError **error);
/** HfReadyFunc: in the main loop, before a good answer goes out. */
typedef void (*HfReadyFunc)(HfPage *page, gpointer data);
/** hf_later_new: (transfer full) no work yet; %NULL with %HF_ERROR_IO: no thread. */
HfLater *hf_later_new(HfPage *page, GError **error);
/** hf_later_free: stops what is under way and waits for it; %NULL: nothing. */
void hf_later_free(HfLater *later);
/** hf_later: answers @message when the work is done. Takes @data. */
void hf_later(HfPage *page, SoupServerMessage *message, HfWorkFunc func, HfReadyFunc ready,
              gpointer data, GDestroyNotify free_data);

/* ---- state.c ---- */
/** hf_state_write: the State of docs/page.md. @with_view: also the last good view. */
void hf_state_write(HfJson *json, HfPage *page, gboolean with_view);
/** hf_state_bytes: (transfer full) what hf_state_write() writes, as one object. */
GBytes *hf_state_bytes(HfPage *page, gboolean with_view);

/* ---- page.c ---- */
/** hf_page_begin: @page has its options and nothing else: all of it is there then, and the recipe
 * of the options is open. %FALSE: hf_page_end() all the same. */
gboolean hf_page_begin(HfPage *page, GError **error);
/** hf_page_end: nobody is answered any more, all threads have ended. */
void hf_page_end(HfPage *page);
/** hf_page_changed: the text is another now: counts it, runs it, tells every page. */
void hf_page_changed(HfPage *page);
/** hf_page_no_thread: sets the error of it. */
void hf_page_no_thread(GError **error);
/** hf_page_thread: (transfer full) a thread that runs @func(@data), or %NULL with %HF_ERROR_IO. */
GThread *hf_page_thread(const char *name, GThreadFunc func, gpointer data, GError **error);
/** hf_page_settled: a text was read, or run: when the newest was both, it has not brought the page
 *  down. */
void hf_page_settled(HfPage *page);
/** hf_page_open: %FALSE: the one that was open stays open. */
gboolean hf_page_open(HfPage *page, const char *file, GError **error);
/** hf_page_allowed: (transfer full) the true path of @file when it lies in one of the folders, else
 *  %NULL with the error. @file: as the page names it, relative to home, or absolute. @itself: one
 *  of the folders will do too. */
char *hf_page_allowed(const HfPage *page, const char *file, gboolean itself, GError **error);
/** hf_page_check_disk: looks at the file, and tells every page when it is not as it was. */
void hf_page_check_disk(HfPage *page);
/** hf_page_watch: follows the file of the document on disk from now on, and no other. */
void hf_page_watch(HfPage *page);

/* ---- events.c ---- */
HfEvents *hf_events_new(HfPage *page);
/** hf_events_free: every page that listens is let go; %NULL: nothing. */
void hf_events_free(HfEvents *events);
/** hf_events_listeners: how many pages listen. */
guint hf_events_listeners(const HfEvents *events);
/** hf_events_join: the exchange becomes a page that listens. */
void hf_events_join(HfEvents *events, SoupServerMessage *message);
/** hf_events_tell: @json on one line. @newest_only: it takes the place of what was not sent yet
 *  under that name. */
void hf_events_tell(HfEvents *events, const char *name, GBytes *json, gboolean newest_only);

/* ---- reader.c ---- */
/* What reading a text came to. */
typedef struct {
  guint64 revision;
  GBytes *tree;     /* (nullable) members of the State: the last that could be read */
  GBytes *mistakes; /* (nullable) members of the State, where it can't be read */
  HfPlaces *places; /* of this very text */
  GError *error;    /* (nullable) why it is no recipe */
} HfReading;
/* How long, ms, an answer waits for the text to be read: of a look, and of a change. */
typedef enum { HF_PATIENCE_SHORT = 400, HF_PATIENCE_LONG = 2000 } HfPatience;
/** hf_reader_new: %NULL with %HF_ERROR_IO: no thread. */
HfReader *hf_reader_new(HfPage *page, GError **error);
/** hf_reader_free: waits for the text that is being read; nothing of it is told. %NULL: nothing. */
void hf_reader_free(HfReader *reader);
/** hf_reader_read: the text of the document as it is now; tells every page the state once it was
 *  read, or has taken long. */
void hf_reader_read(HfReader *reader);
/** hf_reader_is_ready: was the text read as it is now? */
gboolean hf_reader_is_ready(const HfReader *reader);
/** hf_reader_reading: (transfer none) (nullable) the newest. */
const HfReading *hf_reader_reading(const HfReader *reader);
/** hf_reader_forget: another document is open. */
void hf_reader_forget(HfReader *reader);
/** hf_reader_answer: @message is answered with the state, once the text was read, or when @patience
 *  has ended. */
void hf_reader_answer(HfReader *reader, SoupServerMessage *message, HfPatience patience,
                      gboolean with_view);
/** hf_reader_edit: does the edits and answers @message with what comes of it. @steps: (transfer
 *  full) what to do, path and value of each, in turn. @merge nullable. */
void hf_reader_edit(HfReader *reader, SoupServerMessage *message, GPtrArray *steps,
                    const char *merge);

/* ---- worker.c ---- */
/** hf_worker_new: %NULL with %HF_ERROR_IO: no thread. */
HfWorker *hf_worker_new(HfPage *page, GError **error);
/** hf_worker_free: waits for the run that is under way; nothing of it is told. %NULL: nothing. */
void hf_worker_free(HfWorker *worker);
/** hf_worker_run: the text of the document as it is now; older ones are no longer of interest. */
void hf_worker_run(HfWorker *worker);

/* ---- assets.c ---- */
/** hf_asset: (transfer full) (nullable) a file of the page. */
GBytes *hf_asset(const char *path, const char **ret_type);
