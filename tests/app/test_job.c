/* What is worked out beside the main loop: of many questions the newest wins, and nothing is lost
 * on the way. */
#include "app/job.h"

#define PATIENCE_S 60

/* How the work goes on is decided by the test. */
typedef struct
{
  int number;
  gboolean waits; /* for the bell, told to stop or not */
  gboolean tells; /* three times */
  gboolean stopped;
} Question;

typedef struct
{
  FwJob *job;
  int arrived;    /* numbers, newest last, as decimal digits */
  int told, news; /* how often, and the last */
  gboolean stopped, frees, asks;
} Owner;

static gint alive, working, most_working, worked, bell; /* atomic */

static gpointer
count_one (gpointer thing)
{
  g_atomic_int_inc (&alive);
  return thing;
}

static void
free_one (gpointer thing)
{
  g_atomic_int_dec_and_test (&alive);
  g_free (thing);
}

static Question *
question (int number)
{
  Question *q = count_one (g_new0 (Question, 1));
  q->number = number;
  return q;
}

static void
on_work (gpointer data, void *run)
{
  Question *q = data;
  int now = g_atomic_int_add (&working, 1) + 1;

  g_atomic_int_inc (&worked);
  g_atomic_int_set (&most_working, MAX (g_atomic_int_get (&most_working), now));
  for (int i = 1; i <= 3 && q->tells; i++)
    {
      int *news = count_one (g_new (int, 1));
      *news = i;
      fw_job_tell (run, news);
    }
  while (!g_atomic_int_get (&bell) && (q->waits || !fw_job_must_stop (run)))
    g_usleep (200);
  q->stopped = fw_job_must_stop (run);
  g_atomic_int_add (&working, -1);
}

static void
on_arrived (gpointer data, gpointer answer)
{
  Owner *owner = data;
  Question *q = answer;

  owner->arrived = owner->arrived * 10 + q->number;
  owner->stopped = q->stopped;
  free_one (q);
  if (owner->asks)
    fw_job_ask (owner->job, question (9));
  owner->asks = FALSE;
  if (owner->frees)
    g_clear_pointer (&owner->job, fw_job_free);
}

static void
on_told (gpointer data, gpointer news)
{
  Owner *owner = data;

  owner->told++;
  owner->news = *(int *)news;
  free_one (news);
}

static const FwJobKind kind = { "test", on_work, free_one, on_arrived, on_told, free_one };

static void
owner_begin (Owner *owner)
{
  *owner = (Owner){ .job = fw_job_new (&kind, owner) };
  worked = most_working = bell = 0;
}

static void
wait_for (const gint *count, int wanted)
{
  gint64 end = g_get_monotonic_time () + PATIENCE_S * G_USEC_PER_SEC;
  while (g_atomic_int_get (count) != wanted && g_get_monotonic_time () < end)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (200);
  g_assert_cmpint (g_atomic_int_get (count), ==, wanted);
}

static void
owner_end (Owner *owner)
{
  fw_job_free (owner->job);
  wait_for (&alive, 0); /* everything was let go of, once: what runs ends when it notices */
}

static void
test_an_answer_arrives_and_may_be_followed_by_a_question (void)
{
  Owner owner;
  owner_begin (&owner);
  owner.asks = TRUE;
  bell = 1;
  fw_job_ask (owner.job, question (1));
  g_assert_nonnull (fw_job_running (owner.job));
  wait_for (&owner.arrived, 19);
  g_assert_null (fw_job_running (owner.job));
  g_assert_false (owner.stopped);
  owner_end (&owner);
}

static void
test_of_many_questions_the_newest_wins (void)
{
  Owner owner;
  owner_begin (&owner);
  Question *slow = question (1);
  slow->waits = TRUE;
  fw_job_ask (owner.job, slow);
  wait_for (&working, 1);
  for (int i = 2; i <= 5; i++)
    {
      fw_job_ask (owner.job, question (i));
      g_assert_cmpint (((const Question *)fw_job_running (owner.job))->number, ==, i);
    }
  g_assert_cmpint (g_atomic_int_get (&worked), ==, 1); /* the others wait for it */
  g_atomic_int_set (&bell, 1);
  wait_for (&owner.arrived, 5);
  g_assert_cmpint (g_atomic_int_get (&worked), ==, 2); /* nobody worked on those between */
  g_assert_cmpint (g_atomic_int_get (&most_working), ==, 1);
  owner_end (&owner);
}

static void
test_what_is_dropped_stops_and_does_not_arrive (void)
{
  Owner owner;
  owner_begin (&owner);
  fw_job_ask (owner.job, question (1));
  wait_for (&working, 1);
  fw_job_ask (owner.job, question (2));
  fw_job_drop (owner.job);
  g_assert_null (fw_job_running (owner.job));
  wait_for (&alive, 0);
  g_assert_cmpint (owner.arrived, ==, 0);
  bell = 1;
  fw_job_ask (owner.job, question (3)); /* and goes on as if nothing had been */
  wait_for (&owner.arrived, 3);
  owner_end (&owner);
}

static void
test_what_is_stopped_arrives_with_what_it_has (void)
{
  Owner owner;
  owner_begin (&owner);
  fw_job_ask (owner.job, question (1));
  wait_for (&working, 1);
  fw_job_stop (owner.job);
  wait_for (&owner.arrived, 1);
  g_assert_true (owner.stopped);

  Question *slow = question (2);
  slow->waits = TRUE;
  fw_job_ask (owner.job, slow);
  wait_for (&working, 1);
  fw_job_ask (owner.job, question (3));
  fw_job_stop (owner.job); /* before it has begun */
  g_atomic_int_set (&bell, 1);
  wait_for (&owner.arrived, 13);
  g_assert_true (owner.stopped);
  owner_end (&owner);
}

static void
test_news_come_before_the_answer_and_the_newest_count (void)
{
  Owner owner;
  owner_begin (&owner);
  Question *q = question (1);
  q->tells = TRUE;
  fw_job_ask (owner.job, q);
  wait_for (&owner.news, 3); /* though the answer is still far */
  g_assert_cmpint (owner.arrived, ==, 0);
  g_atomic_int_set (&bell, 1);
  wait_for (&owner.arrived, 1);

  q = question (2);
  q->tells = TRUE;
  owner.told = 0;
  fw_job_ask (owner.job,
              q); /* the bell rings: the answer may be there before anybody looked at the news */
  while (g_atomic_int_get (&worked) < 2 || g_atomic_int_get (&working) > 0)
    g_usleep (200);
  wait_for (&owner.arrived, 12);
  g_assert_cmpint (owner.told, ==, 1);
  g_assert_cmpint (owner.news, ==, 3);

  q = question (3);
  q->tells = TRUE;
  owner.told = 0;
  fw_job_ask (owner.job, q);
  while (g_atomic_int_get (&worked) < 3 || g_atomic_int_get (&working) > 0)
    g_usleep (200);
  fw_job_drop (owner.job); /* nobody is told any more */
  wait_for (&alive, 0);
  g_assert_cmpint (owner.told, ==, 0);
  g_assert_cmpint (owner.arrived, ==, 12);
  owner_end (&owner);
}

static void
test_a_job_may_go_while_it_works_or_when_an_answer_arrives (void)
{
  Owner owner;
  owner_begin (&owner);
  Question *slow = question (1);
  slow->waits = slow->tells = TRUE;
  fw_job_ask (owner.job, slow);
  wait_for (&working, 1);
  fw_job_ask (owner.job, question (2));
  owner.told = 0;
  fw_job_free (owner.job);
  g_atomic_int_set (&bell, 1);
  wait_for (&alive, 0);
  g_assert_cmpint (owner.arrived + owner.told, ==, 0);

  owner_begin (&owner);
  bell = 1;
  owner.frees = TRUE;
  fw_job_ask (owner.job, question (3));
  wait_for (&owner.arrived, 3);
  g_assert_null (owner.job);
  owner_end (&owner);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/an answer arrives, and may be followed by a question",
                   test_an_answer_arrives_and_may_be_followed_by_a_question);
  g_test_add_func ("/job/of many questions the newest wins, one at a time",
                   test_of_many_questions_the_newest_wins);
  g_test_add_func ("/job/what is dropped stops and does not arrive",
                   test_what_is_dropped_stops_and_does_not_arrive);
  g_test_add_func ("/job/what is stopped arrives with what it has",
                   test_what_is_stopped_arrives_with_what_it_has);
  g_test_add_func ("/job/news come before the answer, and the newest count",
                   test_news_come_before_the_answer_and_the_newest_count);
  g_test_add_func ("/job/a job may go while it works or when an answer arrives",
                   test_a_job_may_go_while_it_works_or_when_an_answer_arrives);
  return g_test_run ();
}
