#include "mendworth/render.hpp"
#include "render/json_support.hpp"

namespace mendworth {

namespace {

Json problem_json(const Diagnostic& problem) {
  return {{"source", problem.source},  {"line", problem.line},       {"column", problem.column},
          {"key", problem.key},        {"message", problem.message}, {"remedy", problem.remedy},
          {"excerpt", problem.excerpt}};
}

Json checked_json(const CheckedFile& file) {
  return {{"file", file.file},
          {"kind", file.kind},
          {"ok", file.problems.empty() && file.trouble.empty()},
          {"trouble", file.trouble},
          {"problems", list(file.problems, problem_json)}};
}

}  // namespace

std::string check_json(const std::vector<CheckedFile>& files) {
  const Json out = {{"schema", "mendworth.check"},
                    {"version", 1},
                    {"program_version", version()},
                    {"files", list(files, checked_json)}};
  return out.text();
}

}  // namespace mendworth
