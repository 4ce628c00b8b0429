#pragma once

#include <atomic>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "mendworth/drawer.hpp"
#include "mendworth/shop.hpp"
#include "page/answer_view.hpp"
#include "page/case_form.hpp"
#include "render/json_value.hpp"

/// What the page works on: one case, every change of it, its answers.
namespace mendworth::page {

/// The files of the folder that the command was started in, by plain names. Each throws FileError.
struct Files {
  std::function<std::vector<std::string>()> list;                           ///< what may be a case
  std::function<std::optional<std::string>(const std::string& name)> read;  ///< absent: there is none
  std::function<void(const std::string& name, const std::string& text)> write;
};

struct Setup {
  RateBook rates;
  WeighSettings settings{};  ///< of whole answers
  std::optional<Shop> shop{};
  std::optional<Drawer> drawer{};  ///< spare parts on hand, laid beside every case
  std::function<Date()> today;
  std::function<double()> seconds;  ///< of a clock that only goes on
  Files files;
};

/// A request that cannot be met as it stands; says why.
struct Refused : std::runtime_error {
  using std::runtime_error::runtime_error;
};
/// The state that it was about is no longer the one at hand.
struct Superseded : std::runtime_error {
  Superseded() : std::runtime_error("superseded") {}
};

/// Safe to be called from several threads. Each change makes a revision; work for an older one is ended, and what asks
/// for one throws Superseded. What cannot be done throws Refused, files throw FileError.
class Session {
 public:
  /// Begins with the questions.
  explicit Session(Setup setup);

  /// The text of a file; where it is `kept`, saving under its name puts the new text in its place.
  void open_text(const std::string& name, std::string text, bool kept);
  void open(const std::string& name);

  /// Sets or, with blank text, takes out the entry of a field, or gives an answer ("ask.age"). Changes of one key by one
  /// `gesture` other than 0 are undone together.
  void change(const std::string& key, const std::string& typed, long long gesture = 0);
  void add_item(const std::string& list_key);
  void remove_item(const std::string& key);
  /// Back to the state before, or forth again.
  void undo();
  void redo();
  /// A case that cannot be weighed as it stands is refused, unless it is to be kept as it is.
  void save(const std::string& name, bool as_it_is = false);
  /// Keeps the answer of this revision for comparison, or lets it go.
  void pin(long long revision);
  void unpin();

  /// What the page shows beside the answers, as JSON; the form itself unless the page has it in this shape. For a page
  /// that knows an older revision, with a first answer over few futures: so a movement takes one request.
  [[nodiscard]] std::string state_json(const std::string& known_shape,
                                       std::optional<long long> known_revision = std::nullopt);
  /// The whole answer as JSON of HTML.
  [[nodiscard]] std::string answer_json(long long revision);
  /// Names of the files that may be opened.
  [[nodiscard]] std::string files_json() const;
  [[nodiscard]] std::string quote_json(long long revision, bool shop_side);
  /// The whole answer of the state at hand.
  [[nodiscard]] std::shared_ptr<const Weighing> weighing();

  /// Ends what is being worked out.
  void end_work();

  [[nodiscard]] std::string text() const;
  [[nodiscard]] std::string name() const;
  [[nodiscard]] long long revision() const;

 private:
  /// What undo goes back to.
  struct State {
    std::string text;
    std::optional<input::Answers> answers;  ///< while no more than the questions was answered
    std::map<std::string, WrongAnswer> wrong;
  };
  /// What a state was read to.
  struct Now {
    std::shared_ptr<const Case> read;  ///< null: it cannot be read
    Form form;
    std::vector<FieldProblem> problems;
  };
  /// What one answer is worked out from.
  struct Job {
    std::string text;
    std::shared_ptr<const Case> read;
    std::shared_ptr<const std::atomic<bool>> stop;
    long long revision;
  };

  /// A text of a case, the drawer laid beside it.
  [[nodiscard]] Case read(const std::string& text, const std::string& name, const RateBook& rates) const;
  void step(State next, const std::string& key, long long gesture);
  void become(State state);
  /// To the last state of `from`, the present one being kept in `to`.
  void go(std::vector<State>& from, std::vector<State>& to, const char* nothing);
  [[nodiscard]] State edited(std::string text) const;
  void answer_question(const std::string& key, const std::string& typed, long long gesture);
  [[nodiscard]] Job job(std::optional<long long> revision) const;
  [[nodiscard]] std::optional<Json> first_answer(long long known_revision);
  [[nodiscard]] std::shared_ptr<const Weighing> weighed(const Job& job);
  [[nodiscard]] Weighing weigh_case(const Job& job, WeighSettings settings) const;

  const Setup setup_;
  mutable std::mutex mutex_;  ///< of all below but `whole_`
  std::string name_;
  std::map<std::string, std::string> kept_;  ///< texts as this page read or wrote them
  State state_;
  std::vector<State> past_, future_;
  std::string last_key_;
  long long last_gesture_ = 0;
  Now now_;
  long long revision_ = 0;
  std::shared_ptr<std::atomic<bool>> stop_;
  std::shared_ptr<const Weighing> whole_answer_;  ///< of this revision
  std::shared_ptr<const Pinned> pinned_;
  int quick_futures_ = 1000;
  std::mutex whole_;  ///< one at a time is worked out in full
};

}  // namespace mendworth::page
