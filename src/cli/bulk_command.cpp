#include <iterator>
#include <string>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/destination.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

int bulk_command(const BulkOptions& options, const Streams& streams, const Surroundings& surroundings) {
  Destination out(options.out_path, "--out", options.case_path);

  const PageStyle style = page_style(options.page, bulk_sections(), surroundings, out.is_standard_output());
  const RateBook rates = rates_with(options.rates_directory);
  Case c = case_from(options.case_path, rates, options.overrides);
  BulkSettings settings = options.settings;
  for (const std::string& path : options.quotation_paths) {
    auto ladders = read_quotation(read_text_file(path), path, options.quotations);
    settings.quotations.insert(settings.quotations.end(), std::make_move_iterator(ladders.begin()),
                               std::make_move_iterator(ladders.end()));
  }
  const auto beside =
      answers_beside(c, [&](const Case& other) { return bulk_what_if(other, rates, settings); });
  const BulkAnswer answer = bulk_what_if(c, rates, settings);

  out.write(options.page.format == Format::json ? bulk_json(answer, beside) : bulk_page(answer, style, beside), streams);
  return answered;
}

}  // namespace mendworth::cli
