/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-desk.c — why the desk refuses, and what to do: one sentence or two for each case.
 *
 * Invariant: texts of the keeper go in by {1} … {4} and are never read as a
 * format. */
#include "words/words-private.h"

#include <string.h>

static const WordsTerm problems[WORDS_N_DESK] = {
  [WORDS_DESK_KEY_UNKNOWN] = TERM ("desk error", "There is no key “{1}” here. Keys are: {2}."),
  [WORDS_DESK_KEY_TWICE] = TERM ("desk error", "“{1}” was given twice. Give it once."),
  [WORDS_DESK_NO_SPECIES] =
    TERM ("desk error", "A species is needed: the scientific name, its beginning, or unknown."),
  [WORDS_DESK_PLACE_NAMELESS] = TERM ("desk error", "A place needs a name or a code, or both."),
  [WORDS_DESK_FOREIGN_ENTRY] = TERM (
    "desk error",
    "The journal is damaged: entry {1} belongs to a subject that is not there. Open a backup."),
  [WORDS_DESK_BEYOND] =
    TERM ("desk error",
          "This entry says something that this version does not know: {1}. Corrected here, that "
          "would be lost. Correct it with the newer version; or take it back and enter it anew."),
  [WORDS_DESK_NOTHING_TO_UNDO] = TERM ("desk error", "There is nothing to undo."),
  [WORDS_DESK_NOTHING_TO_REDO] = TERM ("desk error", "There is nothing to redo."),
  [WORDS_DESK_NOTHING_TO_PRINT] =
    TERM ("desk error",
          "Nothing stands there, so there is nothing to print. Add an animal, or "
          "choose another shelf."),
  [WORDS_DESK_STANDIN_DAYS] = TERM (
    "desk",
    "Say the first and the last day for which the sheet is; the last is not before the first."),
  [WORDS_DESK_STANDIN_PAST] =
    TERM ("desk", "The sheet begins today at the earliest: what is over can no longer be done."),
  [WORDS_DESK_STANDIN_LONG] =
    TERM ("desk", "A sheet holds at most 31 days. Make a second one for the days after them."),
  [WORDS_DESK_WHAT_IF_ANIMAL] =
    TERM ("desk", "Only of an animal or a lot that lives here can be asked what would change."),
  [WORDS_DESK_WHAT_IF_WARMTH] =
    TERM ("desk", "Give the day and the night in °C, 0 to 50, the night no warmer than the day."),
  [WORDS_DESK_WHAT_IF_DAYS] =
    TERM ("desk", "Give the days between two meals as 5 or 3-5, 1 to 60."),
  [WORDS_DESK_WHAT_IF_PLACE] = TERM ("desk", "That is no shelf. Name one by its name or code."),
  [WORDS_DESK_LOT_COUNTED_BEFORE] =
    TERM ("desk error",
          "Nobody counted the lot before it was there. Say a day from its beginning on, "
          "or none."),
  [WORDS_DESK_SWAP_NOWHERE] =
    TERM ("desk error",
          "{1} stands on no shelf, so it has no place to exchange. Put it on a shelf "
          "first."),
  [WORDS_DESK_SWAP_ITSELF] = TERM ("desk error", "Give two different numbers."),
  [WORDS_DESK_MIXED_NOT_HERE] =
    TERM ("desk error", "{1} is here since {2} only. Give that day or a later one."),
  [WORDS_DESK_MIXED_GONE] =
    TERM ("desk error", "{1} was gone by {2}. Give that day or an earlier one."),
  [WORDS_DESK_MIXED_CANNOT] =
    TERM ("desk error",
          "That cannot be. With what was seen of the other, of {1} it would be wrong "
          "that: {2} Give another day, or correct that entry first."),
  [WORDS_DESK_MIXED_NOT_CORRECTED] =
    TERM ("desk error", "A mix-up is not corrected. Take it back, then enter it anew."),
  [WORDS_DESK_MERGE_ITSELF] =
    TERM ("desk error", "This is the journal that is open. Choose the folder of its other copy."),
  [WORDS_DESK_MERGE_NONE] =
    TERM ("desk error",
          "There is no journal in this folder. Choose the folder of the copy itself: "
          "journal.sqlite lies in it."),
  [WORDS_DESK_MERGE_STRANGER] =
    TERM ("desk error",
          "It is no copy of this journal: the two have no entry in common. In it are {1}. "
          "Nothing was written. Take it in only if two collections are to become one: "
          "where both gave a number, one of the two then answers to it with a letter."),
  [WORDS_DESK_MERGE_FILE] =
    TERM ("desk error",
          "This is a file, not the folder of a journal. A backup is restored to a "
          "new folder first; then choose that folder."),
  [WORDS_DESK_PROOF_NO_MARKS] = TERM (
    "desk error",
    "Nothing was marked in this picture yet, so there is nothing to prove. Go through it on the "
    "photo bench first."),
  [WORDS_DESK_NO_ENTRY] =
    TERM ("desk error", "There is no such entry. The history of a subject lists its entries."),
  [WORDS_DESK_ENTRY_GONE] = TERM ("desk error",
                                  "This entry was taken back or corrected already. Look at the "
                                  "history for the one that counts now."),
  [WORDS_DESK_ENTRY_CORRECTED] =
    TERM ("desk error", "This entry was corrected already. The one that counts now is {1}."),
  [WORDS_DESK_MIXED_NOTHING] =
    TERM ("desk error",
          "Nothing that was seen of the two since {1} changes sides, so nothing was written. "
          "Were they mixed up earlier, say since when."),
  [WORDS_DESK_BAD_TIME] =
    TERM ("desk error", "“{1}” is no time. Write it as HH:MM, or leave it empty."),
  [WORDS_DESK_VOID_NOT_CORRECTED] =
    TERM ("desk error", "What was taken back cannot be corrected. Undo that first."),
  [WORDS_DESK_NOT_LOCAL] =
    TERM ("desk error", "Only files of this computer can be added. Copy the picture here first."),
  [WORDS_DESK_CLOSED] = TERM ("desk error", "The journal has been closed. Open it again."),
  [WORDS_DESK_SEVERAL_CALLED] =
    TERM ("desk error", "Several are called “{1}”. Give them codes, and use the code."),
  [WORDS_DESK_NONE_CALLED] = TERM ("desk error",
                                   "There is no “{1}” in this journal. Name an animal by its "
                                   "number, a lot, an egg case or a place by its code."),
  [WORDS_DESK_SPECIES_SEVERAL] =
    TERM ("desk error", "“{1}” fits several species: {2}. Type more of the name."),
  [WORDS_DESK_SPECIES_NONE] =
    TERM ("desk error",
          "No species is called “{1}”. Known are: {2}. For any other give its own name in full, "
          "such as Miomantis caffra, or unknown."),
  [WORDS_DESK_PHOTO_NEEDS_FILE] =
    TERM ("desk error", "A photo needs its file. Add it as a photo, not as an entry."),
  [WORDS_DESK_NO_KIND] = TERM ("desk error", "There is no kind of entry “{1}”. Kinds are: {2}."),
  [WORDS_DESK_NO_PAIR] = TERM ("desk error", "“{1}” is not of the form key=value."),
  [WORDS_DESK_BAD_DAY] =
    TERM ("desk error",
          "“{1}={2}” is no day. Write it as YYYY-MM-DD, in the years 1583 to 9999, or "
          "in words: yesterday, last Friday, 10 May."),
  [WORDS_DESK_BAD_DAYS] =
    TERM ("desk error",
          "“{1}={2}” is no day. Write it as YYYY-MM-DD, in the years 1583 to 9999, or "
          "in words: yesterday, last Friday, 10 May, about a week ago."),
  [WORDS_DESK_BAD_REAL] =
    TERM ("desk error",
          "“{1}={2}”: this needs a number from {3} to {4}, with a point for the decimals."),
  [WORDS_DESK_NUMBER_FORM] = TERM (
    "desk error",
    "“{1}” is no number of a cup. Take one such as 14 or 14a: at most 8 digits and 2 letters."),
  [WORDS_DESK_NUMBER_GIVEN] =
    TERM ("desk error",
          "The number {1} was given before. Numbers are permanent and never used again; take "
          "another, or none to get the next free one."),
  [WORDS_DESK_CODE_TAKEN] = TERM ("desk error", "The code {1} is taken. Choose another."),
  [WORDS_DESK_CODE_FORM] = TERM (
    "desk error",
    "“{1}” is no code: it is not empty and has no spaces, commas, colons, quotes or semicolons."),
  [WORDS_DESK_CODE_NUMBER] = TERM (
    "desk error",
    "“{1}” is how cups of single animals are numbered. Choose a code that begins with a letter, "
    "such as H7."),
  [WORDS_DESK_CODE_WORD] = TERM (
    "desk error",
    "“{1}” is a word of the round line, where a lot is called by its code. Choose another, such "
    "as H7."),
  [WORDS_DESK_NOT_A_LOT] = TERM ("desk error", "“{1}” is no lot."),
  [WORDS_DESK_NOT_A_PLACE] = TERM ("desk error", "“{1}” is no place."),
  [WORDS_DESK_WITHIN_ITSELF] =
    TERM ("desk error", "A place cannot lie within itself. Choose another than “{1}”."),
  [WORDS_DESK_SETTING_KEY] = TERM ("desk error", "“{1}” cannot be a key: take 1 to 23 characters."),
  [WORDS_DESK_TOO_LONG] = TERM ("desk error", "{1}: this is too long. At most {2} bytes are kept."),
  [WORDS_DESK_NO_PHOTO] = TERM ("desk error", "There is no such photo in this journal."),
  [WORDS_DESK_PHOTO_ID] =
    TERM ("desk error", "“{1}” is no photo. Give the id that adding the photo gave."),
  [WORDS_DESK_NO_SUBJECT] = TERM ("desk error", "There is no such subject in this journal."),
  [WORDS_DESK_READ_ONLY] = TERM ("desk error",
                                 "The journal in {1} cannot be written. Make the folder writable, "
                                 "or copy it to a place of your own."),
  [WORDS_DESK_BENCH_WHAT] =
    TERM ("desk error",
          "Say first what the picture shows: underside or back, animal or shed skin."),
  [WORDS_DESK_AXIS_BAD] =
    TERM ("desk error", "The axis needs two to five different marks, base first, tip last."),
  [WORDS_DESK_AXIS_OUTSIDE] =
    TERM ("desk error",
          "A mark lies outside the picture. Marks are pixels of the upright picture."),
  [WORDS_DESK_AXIS_CROSSED] =
    TERM ("desk error",
          "The line through the marks crosses itself or doubles back. Set them in "
          "their order, from the base of the abdomen to its tip."),
  [WORDS_DESK_AXIS_SHORT] =
    TERM ("desk error", "The axis is shorter than 16 pixels. Take a closer picture."),
  [WORDS_DESK_STOPPED] = TERM ("desk error", "The search was stopped."),
  [WORDS_DESK_PHOTO_OF_OTHER] =
    TERM ("desk error", "That photo belongs to another animal. Mark it on that one's page."),
  [WORDS_DESK_PHOTO_DETACHED] =
    TERM ("desk error",
          "That photo was detached, so it cannot be marked. Undo that, or add it again."),
  [WORDS_DESK_BOUNDS_BAD] =
    TERM ("desk error",
          "Boundaries are numbers from 0 (base) to 1 (tip) along the axis, each above the last."),
  [WORDS_DESK_NO_CUE] = TERM ("desk error", "“{1}” is no cue that can be weighed. Cues are: {2}."),
  [WORDS_DESK_NO_APPENDAGES] =
    TERM ("desk error",
          "Belly appendages are counted only in empusids. Of this kind count the "
          "belly plates."),
  [WORDS_DESK_SETTING_UNKNOWN] =
    TERM ("desk error", "“{1}” is no detail that is kept here. Known are: {2}."),
  [WORDS_DESK_NO_REST] = TERM (
    "desk error",
    "{1} has no winter rest: one that stands cold and refuses is in danger. Warm it up slowly. If "
    "yours does rest, say so in a profile of your own (“winter_rest”)."),
  [WORDS_DESK_REST_UNKNOWN] = TERM ("desk error",
                                    "Few kinds have a winter rest, and of which kind this one is "
                                    "nobody said: enter its kind first."),
  [WORDS_DESK_SETTING_WORD] =
    TERM ("desk error", "“{1}={2}”: take one of {3}, or nothing to take it away."),
  [WORDS_DESK_PROFILE_VALUE] = TERM ("desk error", "{1}: {2}."),
  [WORDS_DESK_PROFILE_NO_VALUE] =
    TERM ("desk error",
          "“{1}” is no value of a profile that can be changed. Name it as its file "
          "does, such as care.mist=2;3."),
  [WORDS_DESK_PROFILE_TOO_LONG] =
    TERM ("desk error",
          "[{1}] is longer than a journal keeps in one place, 4000 bytes. Shorten "
          "its notes or sources."),
  [WORDS_DESK_PROFILE_TAKEN] =
    TERM ("desk error",
          "The values of {1} cannot be told from those of another kind in this "
          "journal. Take those of the other back first."),
  [WORDS_DESK_PROFILE_GENERAL] =
    TERM ("desk error",
          "Only one profile stands in for unknown species, and it keeps its name. "
          "Take general=true out of the file, or leave the name as it was."),
  [WORDS_DESK_INTERVAL] =
    TERM ("desk error", "“{1}={2}”: give days from 1 to 365, such as 3 or 3-5."),
  [WORDS_DESK_INSIDE_JOURNAL] =
    TERM ("desk error",
          "This lies inside the journal in {1}. A backup, and what is restored from one, belongs "
          "outside of every journal: choose another folder."),
  [WORDS_DESK_BACKUP_PHOTO] =
    TERM ("desk error",
          "The photo {1} is not in the folder of this backup, or not as it was. Nothing was "
          "restored. Restore without damaged photos, or take another backup."),
  [WORDS_DESK_BACKUP_BUSY] =
    TERM ("desk error", "Another program is making the backup of today already."),
  [WORDS_DESK_BEFORE_ELSEWHERE] =
    TERM ("desk error",
          "Cup {1} stands on “{2}”, not on “{3}”. Name a cup that stands there, or "
          "none to put it at the end."),
  [WORDS_DESK_BEFORE_NOWHERE] =
    TERM ("desk error",
          "“{1}” stands on no shelf. Name a cup that stands on “{2}”, or none to put "
          "it at the end."),
  [WORDS_DESK_BEFORE_ITSELF] =
    TERM ("desk error",
          "No cup stands before itself. Name another than {1}, or none to put it at "
          "the end."),
  [WORDS_DESK_ONLY_NAME] =
    TERM ("desk error",
          "This {1} is all that names it; without it nobody could find it again. Correct the "
          "entry to another value instead, or undo that it was added."),
  [WORDS_DESK_NO_TASK] = TERM ("desk error", "“{1}” is no task. Tasks are: {2}."),
  [WORDS_DESK_NOT_AN_ANIMAL] = TERM ("desk error", "“{1}” is no animal. Give the number of one."),
  [WORDS_DESK_NOT_AN_EGGCASE] =
    TERM ("desk error",
          "“{1}” is no egg case. Give the code of one; whom a lot was bought from "
          "goes with the day it came (acquired=)."),
  [WORDS_DESK_OWN_ANCESTOR] =
    TERM ("desk error",
          "“{1}” descends from it, or is it itself, and cannot be its parent. Check "
          "the numbers."),
  [WORDS_DESK_MOTHER_MALE] =
    TERM ("desk error",
          "“{1}” is a male and cannot be the mother. Check the number, or correct its sex first."),
  [WORDS_DESK_FATHER_FEMALE] = TERM (
    "desk error",
    "“{1}” is a female and cannot be the father. Check the number, or correct its sex first."),
  [WORDS_DESK_BOTH_PARENTS] =
    TERM ("desk error", "“{1}” cannot be both mother and father. Check the numbers."),
  [WORDS_DESK_PARENT_KIND] = TERM ("desk error",
                                   "“{1}” is of another kind and cannot be a parent. Check the "
                                   "number, or correct the kind first."),
  [WORDS_DESK_MOTHER_NYMPH] = TERM (
    "desk error",
    "“{1}” was never entered as adult, and only adults lay. Check the number, or enter first that "
    "it is adult."),
  [WORDS_DESK_CODE_GIVEN] =
    TERM ("desk error",
          "The code “{1}” was given before, and is never used again. Choose "
          "another."),
  [WORDS_DESK_LOT_UNCOUNTED] =
    TERM ("desk error",
          "How many are there? Write count=120, and counted=no if that is an "
          "estimate."),
  [WORDS_DESK_LOT_NONE] = TERM ("desk error", "How many are to be taken out? At least one."),
  [WORDS_DESK_LOT_MOST] =
    TERM ("desk error", "At most {1} can be taken out at once. Do the rest in a second step."),
  [WORDS_DESK_LOT_MOULTED] =
    TERM ("desk error",
          "That {1} of these had moulted does not fit what is entered of the lot for that day. "
          "Enter first how many of it moulted."),
  [WORDS_DESK_LOT_NEGATIVE] =
    TERM ("desk error",
          "More would then have been taken out of lot {1} than were in it. Count it "
          "anew, or take back first what was taken out."),
  [WORDS_DESK_LOT_ELSEWHERE] =
    TERM ("desk error",
          "That would change how many went from one lot into the other. On that day {1} was "
          "part of another lot or had gone into one: enter it there, or count anew."),
  [WORDS_DESK_LOT_ONE_SIDE] =
    TERM ("desk error",
          "These moved out of {1} into another place, which would still hold them. Undo the "
          "whole move, or count anew."),
  [WORDS_DESK_JOIN_ITSELF] = TERM ("desk error", "A lot cannot be joined to itself. Name two."),
  [WORDS_DESK_JOIN_SPECIES] =
    TERM ("desk error",
          "Lot {1} is {2}, lot {3} is {4}. Only lots of one species are joined; if "
          "a name is wrong, correct it first."),
  [WORDS_DESK_JOIN_STAGES] = TERM ("desk error",
                                   "Lot {1} is {2}, lot {3} is {4}. Lots that are more than one "
                                   "moult apart are not joined: the larger eat "
                                   "the smaller. If a stage is wrong, correct it first."),
  [WORDS_DESK_LOT_HALF_BACK] =
    TERM ("desk error",
          "That would bring back one half of a move of {1}. Use redo, or make the move anew."),
  [WORDS_DESK_CULTURE_PREY] =
    TERM ("desk error", "A culture of what? Write prey=hydei, for example."),
  [WORDS_DESK_WRITTEN_DAMAGED] = TERM (
    "desk error",
    "This was written, but the journal in {1} is damaged: it could not be read again. Copy the "
    "folder before anything else, then go on with a backup."),
  [WORDS_DESK_WRITTEN_UNREAD] =
    TERM ("desk error",
          "This was written, but the journal could not be read again. Close it and open it again."),
};

char *
words_desk_problem (WordsLang lang, WordsDeskProblem problem, const char *const *args)
{
  return words_fill (words_term (lang, problems, WORDS_N_DESK, (int) problem), args);
}

char *
words_salvage_lost (WordsLang lang, gsize lost, gboolean end_missing)
{
  if (!end_missing && lost == 0)
    return g_strdup (T_ (lang, "damaged", "none is known to be lost"));
  if (!end_missing)
    return g_strdup_printf (TN_ (lang, "damaged", "at least %u is lost", "at least %u are lost",
                                 (gulong) lost),
                            (guint) lost);
  if (lost == 0)
    return g_strdup (
      T_ (lang, "damaged", "the end of the file is missing: how many are lost nobody can count"));
  return g_strdup_printf (
    TN_ (lang, "damaged", "at least %u is lost: the end of the file is missing",
         "at least %u are lost: the end of the file is missing", (gulong) lost),
    (guint) lost);
}
