#include "page/session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "futures/parallel.hpp"
#include "mendworth/read_case.hpp"
#include "page/case_keys.hpp"
#include "page/field_text.hpp"
#include "render/json_value.hpp"

namespace mendworth::page {

namespace {

constexpr std::size_t most_steps_back = 200;
constexpr std::size_t longest_file_name = 100;
constexpr int fewest_quick = 100, most_quick = 4000;
constexpr double slow_seconds = 0.09, quick_seconds = 0.03;
constexpr std::string_view ask_head = "ask.";

bool is_plain_file_name(std::string_view name) {
  if (name.empty() || name.size() > longest_file_name || name.front() == '.' || !name.ends_with(".toml"))
    return false;
  return std::ranges::all_of(name, [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x20U && byte != 0x7FU && c != '/' && c != '\\';
  });
}

void require_plain_file_name(const std::string& name) {
  if (!is_plain_file_name(name)) throw Refused("a file here has a plain name that ends in .toml");
}

/// What may be done to a text that a field or a button names.
template <class Change>
std::string changed(const std::string& text, const Change& change) {
  try {
    std::string out = change(input::TomlText(text));
    (void)input::TomlText(out);
    if (out.size() > largest_case_file) throw Refused("the case would be larger than a case file may be");
    return out;
  } catch (const std::invalid_argument& error) {
    throw Refused(error.what());
  } catch (const InputError&) {
    throw Refused("that cannot be changed here: change it in the file");
  }
}

}  // namespace

Session::Session(Setup setup) : setup_(std::move(setup)), name_("my-case.toml") {
  State first;
  first.answers.emplace(setup_.rates);
  first.text = case_text(*first.answers);
  become(std::move(first));
}

Case Session::read(const std::string& text, const std::string& name, const RateBook& rates) const {
  Case c = read_case(text, name, rates);
  if (!setup_.drawer) return c;
  static_cast<void>(lay_out(*setup_.drawer, c));
  for (Scenario& scenario : c.what_ifs) static_cast<void>(lay_out(*setup_.drawer, scenario.changed));
  return c;
}

void Session::become(State state) {
  state_ = std::move(state);
  now_ = {};
  std::vector<Diagnostic> problems;
  std::optional<input::TomlText> text;
  try {
    text.emplace(state_.text, name_);
    now_.read = std::make_shared<const Case>(read(state_.text, name_, setup_.rates));
  } catch (const InputError& error) {
    problems = error.problems();
  }
  if (text) {
    now_.form = case_form(*text, now_.read.get(), setup_.rates, !state_.answers);
    now_.problems = field_problems(problems, *text, now_.form);
  } else {
    for (const Diagnostic& problem : problems) now_.problems.push_back({"", problem.text()});
  }
  if (state_.answers) {
    Form questions = question_form(*state_.answers, state_.wrong);
    now_.form.html.insert(0, questions.html);
    now_.form.shape.insert(0, questions.shape);
    now_.form.keys.insert(now_.form.keys.begin(), questions.keys.begin(), questions.keys.end());
    for (const auto& [key, wrong] : state_.wrong)
      now_.problems.push_back({std::string(ask_head) + key, key + ' ' + wrong.problem});
    if (!state_.wrong.empty()) now_.read = nullptr;
  }
  ++revision_;
  if (stop_) *stop_ = true;
  stop_ = std::make_shared<std::atomic<bool>>(false);
  whole_answer_ = nullptr;
}

void Session::step(State next, const std::string& key, long long gesture) {
  const bool same = next.text == state_.text && next.answers.has_value() == state_.answers.has_value() &&
                    next.wrong.empty() && state_.wrong.empty();
  if (same && !next.answers) return;
  const bool joined = gesture != 0 && gesture == last_gesture_ && key == last_key_ && !past_.empty();
  if (!joined) past_.push_back(state_);
  if (past_.size() > most_steps_back) past_.erase(past_.begin());
  future_.clear();
  last_key_ = key;
  last_gesture_ = gesture;
  become(std::move(next));
}

Session::State Session::edited(std::string text) const {
  State next;
  next.text = std::move(text);
  return next;
}

void Session::open_text(const std::string& name, std::string text, bool kept) {
  (void)input::TomlText(text, name);
  const std::scoped_lock lock(mutex_);
  name_ = name;
  if (kept) kept_[name] = text;
  past_.clear();
  future_.clear();
  last_gesture_ = 0;
  become(edited(std::move(text)));
}

void Session::open(const std::string& name) {
  require_plain_file_name(name);
  auto text = setup_.files.read(name);
  if (!text) throw Refused(name + ": there is no such file here");
  try {
    open_text(name, std::move(*text), true);
  } catch (const InputError& error) {
    throw Refused(error.problems().front().text());
  }
}

void Session::change(const std::string& key, const std::string& typed, long long gesture) {
  const std::scoped_lock lock(mutex_);
  if (key.starts_with(ask_head)) return answer_question(key.substr(ask_head.size()), typed, gesture);
  const Input* input = find_input(case_inputs(), key);
  // One key may stand for a number and, in a row after it, for a list.
  if (input == nullptr || input->kind == InputKind::table || input->kind == InputKind::tables)
    throw Refused(fmt::format("'{}' is no entry of a case", key.substr(0, longest_file_name)));
  if (state_.answers) {
    for (const AskedKey& asked : asked_keys(input::TomlText(state_.text))) {
      if (asked.key == key) return answer_question(asked.question->key, typed, gesture);
    }
  }
  std::string text = changed(state_.text, [&](const input::TomlText& now) {
    if (without_blank_ends(typed).empty()) return now.without(key);
    return now.with_value(key, written_value(*input, typed));
  });
  step(edited(std::move(text)), key, gesture);
}

void Session::answer_question(const std::string& key, const std::string& typed, long long gesture) {
  const input::Question* question = input::find_question(key);
  if (question == nullptr || !state_.answers) throw Refused("there is no such question");
  State next = state_;
  next.wrong.erase(key);
  std::string answer(without_blank_ends(typed));
  if (question->form == input::Question::Form::choices) {
    std::replace(answer.begin(), answer.end(), '\n', ',');
    if (answer.empty()) answer = "none";
  }
  if (answer.empty()) {
    next.answers->forget(*question);
  } else if (std::string problem = next.answers->give(*question, answer); !problem.empty()) {
    next.wrong[key] = {typed, std::move(problem)};
  }
  if (const auto trouble = next.answers->trouble()) {
    if (next.wrong.count(trouble->question->key) == 0)
      next.wrong[trouble->question->key] = {next.answers->text(*trouble->question), trouble->problem};
  } else {
    next.text = case_text(*next.answers);
  }
  step(std::move(next), std::string(ask_head) + key, gesture);
}

void Session::add_item(const std::string& list_key) {
  const std::scoped_lock lock(mutex_);
  const Input* input = find_input(case_inputs(), list_key);
  std::string text = changed(state_.text, [&](const input::TomlText& now) {
    const bool is_price_list = list_key.ends_with(".prices") || list_key.ends_with(".shipping");
    if (input == nullptr || (input->kind != InputKind::tables && !is_price_list))
      throw std::invalid_argument("there is no such list");
    const input::TextNode* list = now.find(list_key);
    input::TomlText::Lines lines;
    if (!is_price_list && input->within.front().key == "name") {
      const std::size_t number = list == nullptr ? 1 : list->items.size() + 1;
      lines.emplace_back("name", input::toml_quoted(fmt::format("{} {}", input->key, number)));
    }
    return now.with_item(list_key, lines, is_price_list);
  });
  step(edited(std::move(text)), "", 0);
}

void Session::remove_item(const std::string& key) {
  const std::scoped_lock lock(mutex_);
  std::string text = changed(state_.text, [&](const input::TomlText& now) {
    const std::size_t dot = key.rfind('.');
    const input::TextNode* list = now.find(key.substr(0, std::min(dot, key.size())));
    if (dot == std::string::npos || list == nullptr || !list->is_list() || now.find(key) == nullptr)
      throw std::invalid_argument("there is no such item");
    return now.without(key);
  });
  step(edited(std::move(text)), "", 0);
}

void Session::go(std::vector<State>& from, std::vector<State>& to, const char* nothing) {
  const std::scoped_lock lock(mutex_);
  if (from.empty()) throw Refused(nothing);
  to.push_back(state_);
  State next = std::move(from.back());
  from.pop_back();
  last_gesture_ = 0;
  become(std::move(next));
}

void Session::undo() { go(past_, future_, "there is nothing to undo"); }
void Session::redo() { go(future_, past_, "there is nothing to do again"); }

void Session::save(const std::string& name, bool as_it_is) {
  require_plain_file_name(name);
  const std::scoped_lock lock(mutex_);
  if (!state_.wrong.empty()) throw Refused("an answer will not do yet: mend it, then save");
  if (!now_.read && !as_it_is) throw Refused("not saved: " + now_.problems.front().text);
  const auto there = setup_.files.read(name);
  const auto known = kept_.find(name);
  if (there && known == kept_.end())
    throw Refused(name +
                  ": there is a file of that name already, which is left as it is; choose another name");
  if (there && *there != known->second)
    throw Refused(name +
                  ": was changed by somebody else meanwhile, and is left as it is; choose another name");
  setup_.files.write(name, state_.text);
  kept_[name] = state_.text;
  if (name == name_) return;
  name_ = name;
  whole_answer_ = nullptr;
  if (now_.read) now_.read = std::make_shared<const Case>(read(state_.text, name_, setup_.rates));
}

void Session::pin(long long revision) {
  auto pinned = std::make_shared<Pinned>();
  const Job now = job(revision);
  pinned->weighing = *weighed(now);
  pinned->text = now.text;
  const std::scoped_lock lock(mutex_);
  pinned_ = std::move(pinned);
}

void Session::unpin() {
  const std::scoped_lock lock(mutex_);
  pinned_ = nullptr;
}

std::string Session::state_json(const std::string& known_shape, std::optional<long long> known_revision) {
  std::optional<Json> answer;
  if (known_revision) answer = first_answer(*known_revision);
  const std::scoped_lock lock(mutex_);
  Json out = Json::object();
  out.add("revision", std::int64_t{revision_});
  out.add("name", name_);
  out.add("asking", state_.answers.has_value());
  out.add("answerable", now_.read != nullptr);
  out.add("undo", !past_.empty());
  out.add("redo", !future_.empty());
  out.add("pinned", pinned_ != nullptr);
  out.add("shop", setup_.shop.has_value());
  out.add("shape", now_.form.shape);
  Json problems = Json::array();
  for (const FieldProblem& problem : now_.problems)
    problems.push_back({{"key", problem.key}, {"text", problem.text}});
  out.add("problems", std::move(problems));
  if (now_.form.shape != known_shape) out.add("form", now_.form.html);
  if (answer) out.add("answer", std::move(*answer));
  return out.text();
}

Session::Job Session::job(std::optional<long long> revision) const {
  const std::scoped_lock lock(mutex_);
  if (revision && *revision != revision_) throw Superseded();
  if (!now_.read) throw Refused("the case cannot be weighed as it stands");
  return {state_.text, now_.read, stop_, revision_};
}

Weighing Session::weigh_case(const Job& job, WeighSettings settings) const {
  if (job.read->device.guarantee_until && !settings.today) settings.today = setup_.today();
  try {
    const StoppedBy stopped(*job.stop);
    return weigh(*job.read, setup_.rates, settings);
  } catch (const Stopped&) {
    throw Superseded();
  }
}

std::shared_ptr<const Weighing> Session::weighed(const Job& job) {
  const std::scoped_lock one(whole_);
  if (*job.stop) throw Superseded();
  {
    const std::scoped_lock lock(mutex_);
    if (whole_answer_ && job.revision == revision_) return whole_answer_;
  }
  auto answer = std::make_shared<const Weighing>(weigh_case(job, setup_.settings));
  const std::scoped_lock lock(mutex_);
  if (job.revision == revision_) whole_answer_ = answer;
  return answer;
}

std::shared_ptr<const Weighing> Session::weighing() { return weighed(job(std::nullopt)); }

std::optional<Json> Session::first_answer(long long known_revision) {
  std::optional<Job> now;
  WeighSettings settings = setup_.settings;
  settings.what_ifs = false;
  {
    const std::scoped_lock lock(mutex_);
    if (known_revision == revision_ || !now_.read) return std::nullopt;
    now = Job{state_.text, now_.read, stop_, revision_};
    settings.futures = settings.futures == 0 ? quick_futures_ : std::min(quick_futures_, settings.futures);
  }
  try {
    const double begin = setup_.seconds();
    const Weighing w = weigh_case(*now, settings);
    const double took = setup_.seconds() - begin;
    {
      const std::scoped_lock lock(mutex_);
      if (took > slow_seconds) quick_futures_ = std::max(fewest_quick, quick_futures_ / 2);
      if (took < quick_seconds) quick_futures_ = std::min(most_quick, quick_futures_ * 2);
    }
    return Json{
        {"revision", std::int64_t{now->revision}}, {"lead", lead_html(w)}, {"verdict", verdict_words(w)}};
  } catch (const Superseded&) {
    return std::nullopt;
  }
}

std::string Session::answer_json(long long revision) {
  const Job now = job(revision);
  const std::shared_ptr<const Weighing> w = weighed(now);
  std::shared_ptr<const Pinned> pinned;
  {
    const std::scoped_lock lock(mutex_);
    pinned = pinned_;
  }
  Json out{{"revision", std::int64_t{revision}}, {"lead", lead_html(*w)}, {"verdict", verdict_words(*w)}};
  out.add("sections", sections_html(*w));
  out.add("sliders", sliders_html(*w, input::TomlText(now.text)));
  out.add("comparison", pinned ? comparison_html(*pinned, *w, now.text) : "");
  return out.text();
}

std::string Session::files_json() const {
  Json names = Json::array();
  for (const std::string& file : setup_.files.list()) {
    if (is_plain_file_name(file)) names.push_back(file);
  }
  Json out = Json::object();
  out.add("files", std::move(names));
  return out.text();
}

std::string Session::quote_json(long long revision, bool shop_side) {
  if (!setup_.shop) throw Refused("no shop file was given");
  const Job now = job(revision);
  QuoteSettings settings;
  settings.seed = setup_.settings.seed;
  settings.threads = setup_.settings.threads;
  settings.date = setup_.today();
  settings.shop_page = shop_side;
  Json out = Json::object();
  out.add("revision", std::int64_t{revision});
  try {
    // The shop's licences decide what may be repaired at all.
    const Case c = read(now.text, name(), rates_for(*setup_.shop, setup_.rates));
    const std::scoped_lock one(whole_);
    const StoppedBy stopped(*now.stop);
    out.add("quote", quote_html(quote(c, *setup_.shop, setup_.rates, settings), shop_side));
  } catch (const Stopped&) {
    throw Superseded();
  } catch (const InputError& error) {
    throw Refused(error.problems().front().text());
  }
  return out.text();
}

void Session::end_work() {
  const std::scoped_lock lock(mutex_);
  *stop_ = true;
}

std::string Session::text() const {
  const std::scoped_lock lock(mutex_);
  return state_.text;
}

std::string Session::name() const {
  const std::scoped_lock lock(mutex_);
  return name_;
}

long long Session::revision() const {
  const std::scoped_lock lock(mutex_);
  return revision_;
}

}  // namespace mendworth::page
