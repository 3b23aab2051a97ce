-- Estimates are sent, answered on their page, and run out.

-- What people say about an estimate on its page is looked at by the office with everything else that they say.
ALTER TABLE "homeowner_answer" DROP CONSTRAINT "homeowner_answer_act_known";
ALTER TABLE "homeowner_answer" ADD CONSTRAINT "homeowner_answer_act_known"
  CHECK ("act" IN ('replaced', 'battery', 'checked', 'corrected', 'snooze', 'decline', 'not-mine',
                   'estimate-accepted', 'estimate-declined', 'estimate-question'));

-- Each night asks which offers are still open and which have run out: few of all that there ever were.
CREATE INDEX estimate_offered ON estimate (expires_on) WHERE state = 'sent';

-- Open screens are told, as of visits and messages: 0002_guards.
CREATE TRIGGER estimate_told_insert AFTER INSERT ON estimate REFERENCING NEW TABLE AS changed
  FOR EACH STATEMENT EXECUTE FUNCTION tell_change();
CREATE TRIGGER estimate_told_update AFTER UPDATE ON estimate REFERENCING NEW TABLE AS changed
  FOR EACH STATEMENT EXECUTE FUNCTION tell_change();
