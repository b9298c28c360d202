/**
 * A batch's stock by the generated TypeScript types: node example.js http://localhost:8765 (invented batch).
 *
 * Before it: npm ci, `generate .`, npx tsc.
 */
import createClient from "openapi-fetch";
import type { paths } from "./lyestock.js";
import { patient } from "./patient.js";

const client = createClient<paths>({ baseUrl: process.argv[2] ?? "http://localhost:8765", fetch: patient() });

for (const alkali of ["135.2 g", "135.2"]) {
  const { data, error } = await client.POST("/v1/liquid-split", {
    params: { query: { digits: 6 } },
    body: {
      alkalis: [{ alkali: "NaOH", mass: alkali }],
      stocks: [{ alkali: "NaOH", strength: { mass_fraction: "50 %" } }],
      total_liquid: { water_ratio: "2:1" },
    },
  });
  if (data) {
    const stock = data.stock_draws[0];
    console.log(`stock ${stock?.mass.value} ${stock?.mass.unit}`);
    console.log(`cautions ${data.cautions.length}`);
  } else {
    for (const fault of error.errors ?? []) console.log(`${fault.pointer}: ${fault.detail}; ${fault.mend}`);
  }
}
