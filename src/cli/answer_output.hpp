#pragma once

#include <string>
#include <vector>

#include "cli/destination.hpp"
#include "cli/surroundings.hpp"
#include "cli/values.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

/// How and where a command is asked to write its answer.
struct PageOptions {
  Format format = Format::unstated;
  ColorChoice color = ColorChoice::automatic;
  std::vector<std::string> show{};
  std::optional<std::string> table{};
  std::optional<std::string> out_path{};  ///< absent or "-": standard output
};

/// The style of a page of an answer with these sections; of text, as wide as the terminal from 60 to 120 columns, else
/// 80. A table alone is CSV unless a format is stated. Throws UsageError if the options do not go together or a section is
/// not among them.
[[nodiscard]] PageStyle page_style(const PageOptions& options, const std::vector<std::string>& sections,
                                   const Surroundings& surroundings, bool to_standard_output);

/// The place of an answer, opened before the work begins, and its looks.
class AnswerOutput {
 public:
  /// `inputs` are the files that are read. Throws UsageError as `page_style` does, or if the place is one of them, and
  /// FileError if it cannot be written.
  AnswerOutput(const PageOptions& options, const std::vector<std::string>& sections,
               const std::vector<std::optional<std::string>>& inputs, const Surroundings& surroundings);

  /// Once: as a page, or as JSON. Throws FileError.
  template <class Answer, class Page>
  void write(const Answer& answer, const Page& page, std::string (*json)(const Answer&),
             const Streams& streams) {
    out_.write(is_json_ ? json(answer) : page(answer, style_), streams);
  }
  /// Once: an answer with what stands beside it.
  template <class Answer>
  void write(const Compared<Answer>& all, const Streams& streams) {
    out_.write(is_json_ ? compared_json(all) : compared_page(all, style_), streams);
  }
  [[nodiscard]] bool is_json() const noexcept { return is_json_; }
  [[nodiscard]] const PageStyle& style() const noexcept { return style_; }

 private:
  Destination out_;
  PageStyle style_;
  bool is_json_;
};

}  // namespace mendworth::cli
