import { defineConfig } from "drizzle-kit";

/** Read by `npm run migration` only, which is started in the project's folder. */
export default defineConfig({
  dialect: "postgresql",
  schema: "./db/schema/*.ts",
  out: "./migrations",
  casing: "snake_case",
});
